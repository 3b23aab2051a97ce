import { useInfiniteQuery } from '@tanstack/react-query'
import { Link } from '@tanstack/react-router'
import { moneyInWords } from '../../../trade/estimates/money.ts'
import { ESTIMATE_STATES } from '../../../trade/estimates/states.ts'
import { estimateQueries } from '../../shared/api/estimates.ts'
import { urlOf } from '../../shared/api/http.ts'
import { dayInZone, formatDay } from '../../shared/format.ts'
import { buttonLink } from '../../shared/ui/button.tsx'
import { SelectField, TextField } from '../../shared/ui/fields.tsx'
import { Page } from '../../shared/ui/page.tsx'
import { Tel } from '../../shared/ui/tel.tsx'
import { useFilters } from '../shell/filters.ts'
import { Filters, PagedTable } from '../shell/list.tsx'
import { EstimateStateTag } from './estimate-state.tsx'

const FILTERS = ['q', 'state', 'propertyId', 'customerId'] as const

/** What was offered to whom, the latest first. A new one begins at the home, or at the inspection. */
export function Estimates() {
  const { filters, set, clear } = useFilters(FILTERS)
  const list = useInfiniteQuery(estimateQueries.list(filters))
  return (
    <Page
      title="Estimates"
      under="Begin one at a home or at an inspection, from what was found there"
      actions={
        <a className={buttonLink} href={urlOf('/estimates/export.csv', filters)} download>
          Save as CSV
        </a>
      }
    >
      <Filters of="estimates">
        <TextField label="Address, name or phone" type="search" value={filters.q ?? ''} onChange={set('q')} />
        <SelectField
          label="State"
          value={filters.state ?? ''}
          onChange={set('state')}
          options={ESTIMATE_STATES}
          empty="Any"
        />
      </Filters>
      <PagedTable
        of="estimates"
        list={list}
        empty="No estimate fits."
        onClear={clear}
        columns={[
          {
            name: 'Number',
            cell: (each) => (
              <Link to="/estimates/$id" params={{ id: each.id }}>
                Estimate {each.number}
              </Link>
            ),
          },
          {
            name: 'Home',
            cell: (each) => (
              <Link to="/homes/$id" params={{ id: each.propertyId }}>
                {each.line1}
              </Link>
            ),
          },
          { name: 'Customer', cell: (each) => each.customerName },
          { name: 'Phone', cell: (each) => each.customerPhone && <Tel number={each.customerPhone} /> },
          { name: 'State', cell: (each) => <EstimateStateTag state={each.state} /> },
          { name: 'With tax', right: true, cell: (each) => moneyInWords(each.totalCents) },
          {
            name: 'Sent',
            right: true,
            cell: (each) => each.sentAt && formatDay(dayInZone(each.sentAt, each.timeZone)),
          },
          {
            name: 'Decided',
            right: true,
            cell: (each) => each.decidedAt && formatDay(dayInZone(each.decidedAt, each.timeZone)),
          },
          { name: 'Open until', right: true, cell: (each) => each.expiresOn && formatDay(each.expiresOn) },
        ]}
      />
    </Page>
  )
}
