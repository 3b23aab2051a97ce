import type { InspectionView } from '../../../server/inspections/schema.ts'
import { Card } from '../../shared/ui/page.tsx'
import { Table } from '../../shared/ui/table.tsx'

interface Told {
  key: string
  where: string
  said: string
  reason: string
}

/** Where whoever stood before it saw it otherwise than a rule, and why. */
export function Disagreements({ inspection }: { inspection: InspectionView }) {
  const told = inspection.answers.flatMap((answer) =>
    answer.disagreements.map((each): Told => {
      const line = inspection.lines.find(
        (one) => one.itemId === answer.itemId && one.subjectId === answer.subjectId,
      )
      const verdict = answer.verdicts.find((one) => one['rule'] === each['rule'])
      return {
        key: `${answer.id}${String(each['rule'])}`,
        where: [line?.title ?? answer.itemId, line?.name].filter(Boolean).join(': '),
        said: String(verdict?.['technician'] ?? each['rule']),
        reason: String(each['reason']),
      }
    }),
  )
  if (told.length === 0) return null
  return (
    <Card title="Where the technician disagrees with a rule">
      <Table
        caption="Disagreements"
        rows={told}
        rowKey={(each) => each.key}
        columns={[
          { name: 'Where', cell: (each) => each.where },
          { name: 'The rule says', cell: (each) => each.said },
          { name: 'The technician says', cell: (each) => each.reason },
        ]}
      />
    </Card>
  )
}
