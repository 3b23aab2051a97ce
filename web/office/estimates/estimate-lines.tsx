import type { EstimateView, LineView } from '../../../server/estimates/schema.ts'
import { lineNetCents, moneyInWords, typedPercent, typedQuantity } from '../../../trade/estimates/money.ts'
import { FINDING_STATES } from '../../../trade/inspection/finding-states.ts'
import { SeverityMark } from '../../shared/severity.tsx'
import { Card, Tag } from '../../shared/ui/page.tsx'
import { Table } from '../../shared/ui/table.tsx'
import css from './estimate.module.css'
import { Totals } from './totals.tsx'

/** The lines of an estimate that is settled, and what was taken of it. */
export function EstimateLines({ estimate }: { estimate: EstimateView }) {
  const { lines, state, note } = estimate
  const taken = state === 'accepted' ? lines.filter(({ decision }) => decision === 'accepted') : lines
  return (
    <Card title="Lines">
      {note && <p className={css.note}>{note}</p>}
      <Table
        caption="Lines"
        rows={lines}
        rowKey={(each) => each.id}
        columns={[
          { name: 'What is done', long: true, cell: (each) => <What line={each} /> },
          { name: 'Option', cell: (each) => each.option || null },
          { name: 'How many', right: true, cell: (each) => typedQuantity(each.quantityThousandths) },
          { name: 'Price', right: true, cell: (each) => moneyInWords(each.priceCents) },
          { name: 'Tax', right: true, cell: (each) => `${typedPercent(each.taxBasisPoints)} %` },
          { name: 'Without tax', right: true, cell: (each) => moneyInWords(lineNetCents(each)) },
          { name: 'Decision', cell: (each) => <Decision line={each} /> },
        ]}
      />
      <Totals lines={taken} />
    </Card>
  )
}

function What({ line: { description, finding } }: { line: LineView }) {
  return (
    <>
      {description}
      {finding && (
        <small className={css.soft}>
          <SeverityMark severity={finding.severity} /> {finding.text} ({FINDING_STATES[finding.state]})
        </small>
      )}
    </>
  )
}

function Decision({ line: { decision } }: { line: LineView }) {
  if (decision === 'undecided') return null
  return (
    <Tag tone={decision === 'accepted' ? 'good' : 'plain'}>{decision === 'accepted' ? 'Taken' : 'Left'}</Tag>
  )
}
