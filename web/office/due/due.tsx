import { useInfiniteQuery, useQuery } from '@tanstack/react-query'
import { Link } from '@tanstack/react-router'
import { useState } from 'react'
import type { FollowUpSummary } from '../../../server/follow-ups/schema.ts'
import { dueQueries } from '../../shared/api/due.ts'
import { urlOf } from '../../shared/api/http.ts'
import { formatDay } from '../../shared/format.ts'
import { SeverityMark } from '../../shared/severity.tsx'
import type { Severity } from '../../../trade/verdict.ts'
import { Button, buttonLink } from '../../shared/ui/button.tsx'
import { Dialog } from '../../shared/ui/dialog.tsx'
import { SelectField, TextField } from '../../shared/ui/fields.tsx'
import { Page, Tag } from '../../shared/ui/page.tsx'
import { Empty, Failed, Waiting } from '../../shared/ui/states.tsx'
import { Table } from '../../shared/ui/table.tsx'
import { useFilters } from '../shell/filters.ts'
import filterCss from '../shell/filters.module.css'
import { BulkActs } from './bulk-acts.tsx'
import { DueDetail } from './due-detail.tsx'
import css from './due.module.css'

const FILTERS = ['tab', 'search', 'city', 'street', 'week', 'kind', 'propertyId', 'ignored'] as const
const TABS = { due: 'Due now', coming: 'Coming', waiting: 'Waiting for the customer', done: 'Done' } as const

/** The worklist that the office finishes each morning: overdue first, one trip for several homes. */
export function Due() {
  const { filters, set, clear } = useFilters(FILTERS)
  const tab = (filters.tab ?? 'due') as keyof typeof TABS
  const list = useInfiniteQuery(dueQueries.list({ ...filters, tab }))
  const numbers = useQuery(dueQueries.numbers())
  const [chosen, setChosen] = useState<ReadonlySet<string>>(new Set())
  const [open, setOpen] = useState<FollowUpSummary | null>(null)
  const rows = list.data?.pages.flatMap((page) => page.items) ?? []
  const toggle = (id: string) =>
    setChosen((before) => {
      const after = new Set(before)
      if (!after.delete(id)) after.add(id)
      return after
    })
  const counts: Record<string, number | undefined> = {
    due: numbers.data?.due,
    coming: numbers.data?.coming,
    waiting: numbers.data?.waiting,
  }
  return (
    <Page
      title="Due"
      under={
        numbers.data &&
        `This month: ${numbers.data.dueThisMonth} due, ${numbers.data.answered} answered, ${numbers.data.booked} booked. ${numbers.data.ignoredTwice} never answered two letters: phone them.`
      }
      actions={
        <a className={buttonLink} href={urlOf('/follow-ups/export.csv', { ...filters, tab })} download>
          Save as CSV
        </a>
      }
    >
      <nav className={css.tabs} aria-label="State">
        {Object.entries(TABS).map(([key, words]) => (
          <button key={key} type="button" aria-pressed={tab === key} onClick={() => set('tab')(key)}>
            {words} {counts[key] !== undefined && <strong>{counts[key]}</strong>}
          </button>
        ))}
      </nav>
      <form
        className={filterCss.filters}
        role="search"
        aria-label="Filter what is due"
        onSubmit={(event) => event.preventDefault()}
      >
        <TextField
          label="Name, address or device"
          type="search"
          value={filters.search ?? ''}
          onChange={set('search')}
        />
        <TextField label="Street" value={filters.street ?? ''} onChange={set('street')} />
        <TextField label="Town" value={filters.city ?? ''} onChange={set('city')} />
        <SelectField
          label="Answers"
          value={filters.ignored ?? ''}
          onChange={set('ignored')}
          options={{ yes: 'Never answered two letters' }}
          empty="All"
        />
        <TextField label="Week of" type="date" value={filters.week ?? ''} onChange={set('week')} />
      </form>
      {chosen.size > 0 && <BulkActs ids={[...chosen]} onDone={() => setChosen(new Set())} />}
      {list.isPending && <Waiting />}
      {list.isError && <Failed error={list.error} retry={() => void list.refetch()} />}
      {list.isSuccess && rows.length === 0 && (
        <Empty title={tab === 'due' ? 'Nothing is due. Well done.' : 'Nothing here.'}>
          <Button onPress={clear}>Show all that is due</Button>
        </Empty>
      )}
      {rows.length > 0 && (
        <Table
          caption={TABS[tab]}
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
                    onChange={() => toggle(each.id)}
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
              cell: (each) => (
                <>
                  <Link to="/homes/$id" params={{ id: each.propertyId }}>
                    {each.line1}
                  </Link>
                  <small className={css.small}>{each.city}</small>
                </>
              ),
            },
            { name: 'Customer', cell: (each) => each.customerName },
            {
              name: 'Phone',
              cell: (each) =>
                each.customerPhone && <a href={`tel:${each.customerPhone}`}>{each.customerPhone}</a>,
            },
            {
              name: 'Due',
              right: true,
              cell: (each) => (
                <>
                  {formatDay(each.dueOn)}
                  {each.overdueDays > 0 && <small className={css.small}>{each.overdueDays} days over</small>}
                  {each.assumed && <Tag>assumed</Tag>}
                </>
              ),
            },
            {
              name: 'Told',
              right: true,
              cell: (each) =>
                each.messagesSent > 0
                  ? `${each.messagesSent} ×`
                  : each.customerEmail
                    ? 'Not yet'
                    : 'No e-mail: phone',
            },
            {
              name: 'Act',
              right: true,
              cell: (each) => (
                <Button
                  small
                  onPress={() => setOpen(each)}
                  aria-label={`Open ${each.kindTitle}, ${each.line1}`}
                >
                  Open
                </Button>
              ),
            },
          ]}
        />
      )}
      {list.hasNextPage && (
        <div>
          <Button onPress={() => void list.fetchNextPage()} isPending={list.isFetchingNextPage}>
            Show more
          </Button>
        </div>
      )}
      <Dialog
        title={open ? `${open.kindTitle}, ${open.line1}` : ''}
        isOpen={open !== null}
        onClose={() => setOpen(null)}
        wide
      >
        {open && <DueDetail id={open.id} onDone={() => setOpen(null)} />}
      </Dialog>
    </Page>
  )
}
