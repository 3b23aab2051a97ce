import { useInfiniteQuery, useQuery } from '@tanstack/react-query'
import { useState } from 'react'
import type { FollowUpSummary } from '../../../server/follow-ups/schema.ts'
import { dueQueries } from '../../shared/api/due.ts'
import { urlOf } from '../../shared/api/http.ts'
import { Button, buttonLink } from '../../shared/ui/button.tsx'
import { Dialog } from '../../shared/ui/dialog.tsx'
import { CheckField } from '../../shared/ui/fields.tsx'
import { Page } from '../../shared/ui/page.tsx'
import { Empty } from '../../shared/ui/states.tsx'
import { useFilters } from '../shell/filters.ts'
import { Paged, rowsOf } from '../shell/list.tsx'
import { Answers } from './answers.tsx'
import { BulkActs } from './bulk-acts.tsx'
import { CALL_KEY, useCallKeys } from './call-keys.ts'
import { DueDetail } from './due-detail.tsx'
import { DueFilters } from './due-filters.tsx'
import { type By, DueGroups } from './due-groups.tsx'
import { DueNumbers } from './due-numbers.tsx'
import { DueTable } from './due-table.tsx'
import css from './due.module.css'
import { SurgeEventButton } from './surge-event.tsx'

const FILTERS = [
  'view',
  'tab',
  'only',
  'search',
  'city',
  'street',
  'onStreet',
  'week',
  'kind',
  'propertyId',
] as const
const TABS = { due: 'Due now', coming: 'Coming', waiting: 'Waiting for the customer', done: 'Done' } as const
const VIEWS = { '': 'One by one', week: 'By week', street: 'By street' } as const

/** The worklist that the office finishes each morning: overdue first, one trip for several homes. */
export function Due() {
  const { filters, put, clear } = useFilters(FILTERS)
  const { view, ...rest } = filters
  const { tab, only } = rest
  const numbers = useQuery(dueQueries.numbers())
  const shown = only ? null : (tab ?? 'due')
  const counts: Record<string, number | undefined> = {
    due: numbers.data?.due,
    coming: numbers.data?.coming,
    waiting: numbers.data?.waiting,
  }
  const asked = tab === 'answers' ? {} : (rest as Record<string, string>)
  return (
    <Page
      title="Due"
      actions={
        <>
          <SurgeEventButton />
          <a className={buttonLink} href={urlOf('/follow-ups/export.csv', asked)} download>
            Save as CSV
          </a>
        </>
      }
    >
      <DueNumbers numbers={numbers.data} only={only} onChoose={(to) => put({ only: to, tab: '' })} />
      <nav className={css.tabs} aria-label="State">
        {Object.entries(TABS).map(([key, words]) => (
          <button
            key={key}
            type="button"
            aria-pressed={shown === key}
            onClick={() => put({ tab: key, only: '', week: '', onStreet: '' })}
          >
            {words} {counts[key] !== undefined && <strong>{counts[key]}</strong>}
          </button>
        ))}
        <button
          type="button"
          aria-pressed={shown === 'answers'}
          onClick={() => put({ tab: 'answers', only: '', view: '' })}
        >
          Said on their pages {numbers.data && <strong>{numbers.data.toLookAt}</strong>}
        </button>
      </nav>
      {shown === 'answers' ? (
        <Answers />
      ) : (
        <>
          <div className={css.views} role="group" aria-label="Show">
            {Object.entries(VIEWS).map(([key, words]) => (
              <button
                key={key}
                type="button"
                aria-pressed={(view ?? '') === key}
                onClick={() => put({ view: key, week: '', onStreet: '' })}
              >
                {words}
              </button>
            ))}
          </div>
          <DueFilters filters={rest} put={put} />
          {view === 'week' || view === 'street' ? (
            <DueGroups by={view as By} filters={asked} onOpen={(change) => put({ ...change, view: '' })} />
          ) : (
            <DueList key={JSON.stringify(asked)} asked={asked} onClear={clear} />
          )}
        </>
      )}
    </Page>
  )
}

function DueList({ asked, onClear }: { asked: Readonly<Record<string, string>>; onClear: () => void }) {
  const list = useInfiniteQuery(dueQueries.list(asked))
  const [chosen, setChosen] = useState<ReadonlySet<string>>(new Set())
  const [open, setOpen] = useState<FollowUpSummary | null>(null)
  const [focusOn, setFocusOn] = useState<number | null>(null)
  const [areKeysOn, setKeysOn] = useCallKeys()
  const rows = rowsOf(list)
  const tab = (asked['tab'] ?? 'due') as keyof typeof TABS
  const toggle = (id: string) =>
    setChosen((before) => {
      const after = new Set(before)
      if (!after.delete(id)) after.add(id)
      return after
    })
  const close = () => {
    setFocusOn(rows.findIndex(({ id }) => id === open?.id))
    setOpen(null)
  }
  return (
    <>
      {chosen.size > 0 && <BulkActs ids={[...chosen]} onDone={() => setChosen(new Set())} />}
      <Paged
        list={list}
        empty={
          <Empty title={tab === 'due' && !asked['only'] ? 'Nothing is due. Well done.' : 'Nothing here.'}>
            <Button onPress={onClear}>Show all that is due</Button>
          </Empty>
        }
      >
        {() => (
          <>
            <div className={css.over}>
              <Button small onPress={() => setChosen(new Set(rows.map(({ id }) => id)))}>
                Choose all {rows.length} shown
              </Button>
              <CheckField
                label={
                  <>
                    Keys: arrows go from row to row, <kbd>{CALL_KEY}</kbd> opens the call, then one letter for
                    what came of it
                  </>
                }
                checked={areKeysOn}
                onChange={setKeysOn}
              />
            </div>
            <DueTable
              caption={asked['only'] ? 'Those counted' : TABS[tab]}
              rows={rows}
              chosen={chosen}
              onToggle={toggle}
              onOpen={setOpen}
              areKeysOn={areKeysOn}
              focusOn={focusOn}
            />
          </>
        )}
      </Paged>
      <Dialog
        title={open ? `${open.kindTitle}, ${open.line1}` : ''}
        isOpen={open !== null}
        onClose={close}
        wide
      >
        {open && <DueDetail id={open.id} areKeysOn={areKeysOn} onDone={close} />}
      </Dialog>
    </>
  )
}
