import { useInfiniteQuery, useQuery } from '@tanstack/react-query'
import { Link } from '@tanstack/react-router'
import type { JurisdictionView } from '../../../server/settings/schema.ts'
import { http, urlOf } from '../../shared/api/http.ts'
import { homeQueries } from '../../shared/api/homes.ts'
import { formatDay } from '../../shared/format.ts'
import { buttonLink } from '../../shared/ui/button.tsx'
import { SelectField, TextField } from '../../shared/ui/fields.tsx'
import { Page, Tag } from '../../shared/ui/page.tsx'
import { Tel } from '../../shared/ui/tel.tsx'
import { useFilters } from '../shell/filters.ts'
import { Filters, PagedTable } from '../shell/list.tsx'

const FILTERS = ['q', 'due', 'jurisdictionId', 'builtFrom', 'builtTo', 'archived'] as const

export function Homes() {
  const { filters, set, clear } = useFilters(FILTERS)
  const list = useInfiniteQuery(homeQueries.list(filters))
  const jurisdictions = useQuery({
    queryKey: ['jurisdictions'],
    queryFn: () => http.get<JurisdictionView[]>('/jurisdictions'),
  })
  return (
    <Page
      title="Homes"
      actions={
        <>
          <a className={buttonLink} href={urlOf('/properties/export.csv', filters)} download>
            Save as CSV
          </a>
          <Link to="/requests/new" className={buttonLink} data-look="main">
            Take a request
          </Link>
        </>
      }
    >
      <Filters of="homes">
        <TextField label="Address, name or phone" type="search" value={filters.q ?? ''} onChange={set('q')} />
        <SelectField
          label="Due"
          value={filters.due ?? ''}
          onChange={set('due')}
          options={{
            overdue: 'Something is overdue',
            soon: 'Something within 90 days',
            none: 'Nothing is open',
          }}
          empty="Any"
        />
        <SelectField
          label="Code authority"
          value={filters.jurisdictionId ?? ''}
          onChange={set('jurisdictionId')}
          options={(jurisdictions.data ?? []).map((each) => [each.id, each.name] as const)}
          empty="Any"
        />
        <TextField
          label="Built from"
          type="number"
          value={filters.builtFrom ?? ''}
          onChange={set('builtFrom')}
        />
        <TextField
          label="Built until"
          type="number"
          value={filters.builtTo ?? ''}
          onChange={set('builtTo')}
        />
        <SelectField
          label="In use"
          value={filters.archived ?? ''}
          onChange={set('archived')}
          options={{ yes: 'Put away' }}
          empty="In use"
        />
      </Filters>
      <PagedTable
        of="homes"
        list={list}
        empty="No home fits."
        onClear={clear}
        columns={[
          {
            name: 'Address',
            cell: (each) => (
              <Link to="/homes/$id" params={{ id: each.id }}>
                {each.line1}
              </Link>
            ),
          },
          { name: 'Town', cell: (each) => `${each.city} ${each.postcode}` },
          { name: 'Contact', cell: (each) => each.contactName },
          {
            name: 'Phone',
            cell: (each) => each.contactPhone && <Tel number={each.contactPhone} />,
          },
          { name: 'Built', cell: (each) => each.yearBuilt, right: true },
          {
            name: 'Inspected',
            cell: (each) => (each.lastInspectedOn ? formatDay(each.lastInspectedOn) : 'Never'),
          },
          { name: 'Open findings', cell: (each) => each.openFindings || null, right: true },
          {
            name: 'Next due',
            cell: (each) => (each.nextDueOn ? formatDay(each.nextDueOn) : <Tag>Nothing</Tag>),
            right: true,
          },
        ]}
      />
    </Page>
  )
}
