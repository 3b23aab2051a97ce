import { moneyInWords, type Sums } from '../../../trade/estimates/money.ts'
import { offerOf, type OptionalLine } from '../../../trade/estimates/options.ts'
import { Table } from '../../shared/ui/table.tsx'

/** What it comes to: the part that is always taken, each option by itself, and all of it. */
export function Totals({ lines }: { lines: readonly OptionalLine[] }) {
  const { always, options, all } = offerOf(lines)
  const rows: (Sums & { name: string })[] = [
    ...(options.length > 0 ? [{ name: 'Always part of it', ...always }] : []),
    ...options.map(({ name, ...sums }) => ({ name: `Option: ${name}`, ...sums })),
    { name: options.length > 0 ? 'All of it' : 'Total', ...all },
  ]
  return (
    <Table
      caption="Totals"
      rows={rows}
      rowKey={(each) => each.name}
      columns={[
        { name: 'Part', cell: (each) => each.name },
        { name: 'Without tax', right: true, cell: (each) => moneyInWords(each.netCents) },
        { name: 'Tax', right: true, cell: (each) => moneyInWords(each.taxCents) },
        { name: 'With tax', right: true, cell: (each) => <strong>{moneyInWords(each.totalCents)}</strong> },
      ]}
    />
  )
}
