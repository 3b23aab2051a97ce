import type { HomeView } from '../../../server/properties/home-schema.ts'
import { findItem } from '../../../trade/checklist/checklist.ts'
import { OFFERABLE_FINDINGS } from '../../../trade/estimates/states.ts'
import { FINDING_STATES, type FindingState } from '../../../trade/inspection/finding-states.ts'
import type { Severity } from '../../../trade/verdict.ts'
import { formatDay } from '../../shared/format.ts'
import { SeverityMark } from '../../shared/severity.tsx'
import { Card } from '../../shared/ui/page.tsx'
import { Empty } from '../../shared/ui/states.tsx'
import { Table } from '../../shared/ui/table.tsx'
import { NewEstimate } from '../estimates/new-estimate.tsx'

export function FindingsAtHome({ home }: { home: HomeView }) {
  return (
    <Card
      title="Open findings"
      actions={
        home.findings.some(({ state }) => state === 'open') && (
          <NewEstimate of={{ propertyId: home.id }} words="Offer their correction" />
        )
      }
    >
      {home.findings.length === 0 ? (
        <Empty
          title={
            home.closedFindings > 0
              ? `Nothing is open. ${home.closedFindings} were found and dealt with.`
              : 'Nothing is open.'
          }
        />
      ) : (
        <Table
          caption="Open findings"
          rows={home.findings}
          rowKey={(each) => each.id}
          columns={[
            { name: 'Severity', cell: (each) => <SeverityMark severity={each.severity as Severity} /> },
            { name: 'Finding', cell: (each) => each.text, long: true },
            { name: 'At', cell: (each) => placeOf(home, each), deskOnly: true },
            { name: 'State', cell: (each) => FINDING_STATES[each.state as FindingState] ?? each.state },
            { name: 'Found', cell: (each) => formatDay(each.foundOn), right: true },
            {
              name: 'Estimate',
              right: true,
              cell: (each) =>
                (OFFERABLE_FINDINGS as readonly string[]).includes(each.state) ? (
                  <NewEstimate
                    of={{ propertyId: home.id, findingIds: [each.id] }}
                    words="Offer"
                    label={`Offer to correct: ${each.text}`}
                    small
                  />
                ) : null,
            },
          ]}
        />
      )}
    </Card>
  )
}

function placeOf(home: HomeView, { itemId, spaceId, equipmentId }: HomeView['findings'][number]): string {
  const thing =
    home.equipment.find((each) => each.id === equipmentId)?.label ??
    home.spaces.find((each) => each.id === spaceId)?.name
  return thing ?? findItem(itemId)?.title ?? ''
}
