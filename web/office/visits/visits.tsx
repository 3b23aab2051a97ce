import { useInfiniteQuery, useQuery } from '@tanstack/react-query'
import { Link } from '@tanstack/react-router'
import { VISIT_KINDS, VISIT_STATES } from '../../../trade/visits.ts'
import { urlOf } from '../../shared/api/http.ts'
import { techniciansQuery, visitQueries } from '../../shared/api/visits.ts'
import { dayInZone, formatDay, formatMinutes, formatSpan } from '../../shared/format.ts'
import { buttonLink } from '../../shared/ui/button.tsx'
import { SelectField, TextField } from '../../shared/ui/fields.tsx'
import { Page } from '../../shared/ui/page.tsx'
import { useFilters } from '../shell/filters.ts'
import { Filters, PagedTable } from '../shell/list.tsx'
import { VisitStateTag } from './visit-state.tsx'

const FILTERS = ['q', 'from', 'to', 'state', 'technicianId', 'kind', 'order'] as const

export function Visits() {
  const { filters, set, clear } = useFilters(FILTERS)
  const list = useInfiniteQuery(visitQueries.list(filters))
  const technicians = useQuery(techniciansQuery)
  const { order: _order, ...exported } = filters
  return (
    <Page
      title="Visits"
      actions={
        <>
          <a className={buttonLink} href={urlOf('/visits/export.csv', exported)} download>
            Save as CSV
          </a>
          <Link to="/requests/new" className={buttonLink} data-look="main">
            Take a request
          </Link>
        </>
      }
    >
      <Filters of="visits">
        <TextField label="Address, name or phone" type="search" value={filters.q ?? ''} onChange={set('q')} />
        <TextField label="From" type="date" value={filters.from ?? ''} onChange={set('from')} />
        <TextField label="To" type="date" value={filters.to ?? ''} onChange={set('to')} />
        <SelectField
          label="State"
          value={filters.state ?? ''}
          onChange={set('state')}
          options={VISIT_STATES}
          empty="Any"
        />
        <SelectField
          label="Technician"
          value={filters.technicianId ?? ''}
          onChange={set('technicianId')}
          options={(technicians.data ?? []).map((each) => [each.id, each.name] as const)}
          empty="Anybody"
        />
        <SelectField
          label="Order"
          value={filters.order ?? ''}
          onChange={set('order')}
          options={{ latest: 'Latest first' }}
          empty="Earliest first"
        />
      </Filters>
      <PagedTable
        of="visits"
        list={list}
        empty="No visit fits."
        onClear={clear}
        columns={[
          {
            name: 'Home',
            cell: (each) => (
              <Link to="/visits/$id" params={{ id: each.id }}>
                {each.line1}
              </Link>
            ),
          },
          { name: 'Day', cell: (each) => formatDay(dayInZone(each.startsAt, each.timeZone)) },
          {
            name: 'Arrival',
            cell: (each) => formatSpan(each.windowStartsAt, each.windowEndsAt, each.timeZone),
          },
          {
            name: 'Length',
            cell: (each) => formatMinutes(each.lengthMinutes),
            right: true,
            deskOnly: true,
          },
          { name: 'Customer', cell: (each) => each.customerName },
          { name: 'Technician', cell: (each) => each.technicianName },
          { name: 'For', cell: (each) => VISIT_KINDS[each.kind], deskOnly: true },
          {
            name: 'State',
            cell: (each) => <VisitStateTag state={each.state} isConfirmed={each.confirmedAt !== null} />,
          },
        ]}
      />
    </Page>
  )
}
