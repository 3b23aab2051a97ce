import { type KeyboardEvent, useEffect, useRef } from 'react'
import type { FollowUpSummary } from '../../../server/follow-ups/schema.ts'
import type { Severity } from '../../../trade/verdict.ts'
import { formatDay, formatInstant } from '../../shared/format.ts'
import { SeverityMark } from '../../shared/severity.tsx'
import { Button } from '../../shared/ui/button.tsx'
import { Tag } from '../../shared/ui/page.tsx'
import { Table } from '../../shared/ui/table.tsx'
import { Tel } from '../../shared/ui/tel.tsx'
import { CALL_KEY, LOGGED_WORDS, shortcutOf } from './call-keys.ts'
import css from './due.module.css'
import { HomeCell } from './home-cell.tsx'
import { nextInWords, spanInWords } from './next-step.ts'

/** The rows, with keys of their own: arrows go from one to the next, one letter opens the call. */
export function DueTable({
  caption,
  rows,
  chosen,
  onToggle,
  onOpen,
  areKeysOn,
  focusOn,
}: {
  caption: string
  rows: readonly FollowUpSummary[]
  chosen: ReadonlySet<string>
  onToggle: (id: string) => void
  onOpen: (row: FollowUpSummary) => void
  areKeysOn: boolean
  /** The place in the list to go back to, after the row there has gone. */
  focusOn: number | null
}) {
  const frame = useRef<HTMLDivElement>(null)
  const opener = (index: number) => frame.current?.querySelectorAll<HTMLElement>('[data-opens]')[index]
  useEffect(() => {
    // Only when the row that had it is gone: nobody's focus is taken from them.
    const isLost = document.activeElement === null || document.activeElement === document.body
    if (focusOn !== null && isLost) opener(Math.max(0, Math.min(focusOn, rows.length - 1)))?.focus()
  }, [focusOn, rows.length])

  const onKeyDown = (event: KeyboardEvent) => {
    const row = (event.target as HTMLElement).closest('tbody tr')
    if (!row) return
    const index = [...row.parentElement!.children].indexOf(row)
    const key = shortcutOf(event)
    if (key === 'arrowdown' || key === 'arrowup') {
      opener(index + (key === 'arrowdown' ? 1 : -1))?.focus()
      event.preventDefault()
    } else if (areKeysOn && key === CALL_KEY && rows[index]) {
      onOpen(rows[index])
      event.preventDefault()
    }
  }
  return (
    <div ref={frame} onKeyDown={onKeyDown}>
      <Table
        caption={caption}
        rows={rows}
        rowKey={(each) => each.id}
        columns={[
          {
            name: 'What',
            cell: (each) => (
              <label className={css.what}>
                <input
                  type="checkbox"
                  checked={chosen.has(each.id)}
                  onChange={() => onToggle(each.id)}
                  aria-label={`Choose ${each.kindTitle}, ${each.line1}`}
                />
                <span>
                  {each.severity && <SeverityMark severity={each.severity as Severity} />} {each.kindTitle}
                  <small>{each.subject}</small>
                </span>
              </label>
            ),
          },
          {
            name: 'Home',
            cell: (each) => <HomeCell {...each} />,
          },
          {
            name: 'Customer',
            cell: (each) => each.customerName ?? <Tag tone="bad">Nobody is named</Tag>,
          },
          { name: 'Phone', cell: (each) => <PhoneCell row={each} /> },
          {
            name: 'Due',
            right: true,
            cell: (each) => (
              <>
                {formatDay(each.dueOn)}
                {each.overdueDays > 0 && (
                  <small className={css.small}>{spanInWords(each.overdueDays)} over</small>
                )}
                {each.assumed && <Tag>assumed</Tag>}
              </>
            ),
          },
          {
            name: 'Told, and what is next',
            cell: (each) => <ToldCell row={each} />,
          },
          {
            name: 'Act',
            right: true,
            cell: (each) => (
              <Button
                small
                data-opens=""
                onPress={() => onOpen(each)}
                aria-label={`Open ${each.kindTitle}, ${each.line1}`}
                aria-keyshortcuts={areKeysOn ? CALL_KEY.toUpperCase() : undefined}
              >
                Open
              </Button>
            ),
          },
        ]}
      />
    </div>
  )
}

function ToldCell({ row }: { row: FollowUpSummary }) {
  const next = nextInWords(row)
  if (row.messagesSent === 0) return next
  return (
    <>
      {row.messagesSent === 1 ? 'Written once' : `Written ${row.messagesSent} times`}
      {next && <small className={css.small}>{next}</small>}
    </>
  )
}

function PhoneCell({ row }: { row: FollowUpSummary }) {
  return (
    <>
      <Tel number={row.customerPhone} />
      {row.customerLanguage === 'es' && <small className={css.small}>Speaks Spanish</small>}
      {row.lastCallAt && row.lastCallOutcome && (
        <small className={css.small}>
          {LOGGED_WORDS[row.lastCallOutcome] ?? row.lastCallOutcome}, {formatInstant(row.lastCallAt)}
        </small>
      )}
    </>
  )
}
