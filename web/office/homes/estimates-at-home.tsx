import { Link } from '@tanstack/react-router'
import type { HomeView } from '../../../server/properties/home-schema.ts'
import type { EstimateState } from '../../../trade/estimates/states.ts'
import { dayInZone, formatDay } from '../../shared/format.ts'
import { Card } from '../../shared/ui/page.tsx'
import { Empty } from '../../shared/ui/states.tsx'
import { Table } from '../../shared/ui/table.tsx'
import { EstimateStateTag } from '../estimates/estimate-state.tsx'
import { NewEstimate } from '../estimates/new-estimate.tsx'

export function EstimatesAtHome({ home }: { home: HomeView }) {
  return (
    <Card
      title="Estimates"
      actions={
        home.parties.some(({ until }) => !until) && (
          <NewEstimate of={{ propertyId: home.id }} words="New estimate" />
        )
      }
    >
      {home.estimates.length === 0 && <Empty title="Nothing has been offered here." />}
      {home.estimates.length > 0 && (
        <Table
          caption="Estimates"
          rows={home.estimates}
          rowKey={(each) => each.id}
          columns={[
            {
              name: 'Number',
              cell: (each) => (
                <Link to="/estimates/$id" params={{ id: each.id }}>
                  Estimate {each.number}
                </Link>
              ),
            },
            { name: 'State', cell: (each) => <EstimateStateTag state={each.state as EstimateState} /> },
            {
              name: 'Sent',
              right: true,
              cell: (each) => each.sentAt && formatDay(dayInZone(each.sentAt, home.timeZone)),
            },
            {
              name: 'Open until',
              right: true,
              cell: (each) => each.expiresOn && formatDay(each.expiresOn),
            },
          ]}
        />
      )}
    </Card>
  )
}
