import { useInfiniteQuery, useQuery } from '@tanstack/react-query'
import { Link } from '@tanstack/react-router'
import { messageQueries } from '../../shared/api/due.ts'
import { urlOf } from '../../shared/api/http.ts'
import { formatInstant } from '../../shared/format.ts'
import { buttonLink } from '../../shared/ui/button.tsx'
import { SelectField, TextField } from '../../shared/ui/fields.tsx'
import { Page } from '../../shared/ui/page.tsx'
import { useFilters } from '../shell/filters.ts'
import { Filters, PagedTable } from '../shell/list.tsx'
import { Unreachable } from './unreachable.tsx'
import { CATEGORIES, KINDS, MessageStateTag, STATES, titleOf } from './words.tsx'

const FILTERS = ['search', 'state', 'category', 'kind'] as const

/** Every letter with its state: what was sent, what waits, what came back. */
export function Messages() {
  const { filters, set, clear } = useFilters(FILTERS)
  const list = useInfiniteQuery(messageQueries.list(filters))
  const numbers = useQuery(messageQueries.numbers())
  const said =
    numbers.data &&
    `Last 30 days: ${numbers.data.sent} handed over, ${numbers.data.planned} waiting, ${numbers.data.failed} gave up, ${numbers.data.bounced} came back, ${numbers.data.suppressed} held back`
  return (
    <Page
      title="Messages"
      under={said}
      actions={
        <a className={buttonLink} href={urlOf('/messages/export.csv', filters)} download>
          Save as CSV
        </a>
      }
    >
      <Unreachable />
      <Filters of="messages">
        <TextField
          label="Name, address or subject"
          type="search"
          value={filters.search ?? ''}
          onChange={set('search')}
        />
        <SelectField
          label="State"
          value={filters.state ?? ''}
          onChange={set('state')}
          options={STATES}
          empty="Any"
        />
        <SelectField
          label="About"
          value={filters.category ?? ''}
          onChange={set('category')}
          options={CATEGORIES}
          empty="Anything"
        />
        <SelectField
          label="Letter"
          value={filters.kind ?? ''}
          onChange={set('kind')}
          options={KINDS}
          empty="Any"
        />
      </Filters>
      <PagedTable
        of="messages"
        list={list}
        empty="No message fits."
        onClear={clear}
        columns={[
          {
            name: 'Letter',
            cell: (each) => (
              <Link to="/messages/$id" params={{ id: each.id }}>
                {titleOf(each)}
              </Link>
            ),
          },
          { name: 'To', cell: (each) => `${each.toName} ${each.toAddress}` },
          { name: 'Home', cell: (each) => each.propertyLine },
          { name: 'State', cell: (each) => <MessageStateTag state={each.state} /> },
          { name: 'When', cell: (each) => formatInstant(each.sentAt ?? each.sendAfter), right: true },
          {
            name: 'Answered',
            cell: (each) => (each.actedAt ? 'Yes' : each.openedPageAt ? 'Page opened' : null),
            right: true,
          },
        ]}
      />
    </Page>
  )
}
