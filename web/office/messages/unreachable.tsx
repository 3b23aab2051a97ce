import { useQuery } from '@tanstack/react-query'
import { Link } from '@tanstack/react-router'
import { messageQueries } from '../../shared/api/due.ts'
import { formatInstant } from '../../shared/format.ts'
import { Card } from '../../shared/ui/page.tsx'
import { Table } from '../../shared/ui/table.tsx'
import { Tel } from '../../shared/ui/tel.tsx'

/** People whose address is put aside: only the phone reaches them. Nothing is shown while there are none. */
export function Unreachable() {
  const list = useQuery(messageQueries.unreachable())
  if (!list.data || list.data.length === 0) return null
  return (
    <Card title="Phone these people">
      <p>No mail reaches them. Ask for another address and write it down with the customer.</p>
      <Table
        caption="People whom no mail reaches"
        rows={list.data}
        rowKey={(each) => each.customerId}
        columns={[
          {
            name: 'Name',
            cell: (each) => (
              <Link to="/customers/$id" params={{ id: each.customerId }}>
                {each.name}
              </Link>
            ),
          },
          {
            name: 'Phone',
            cell: (each) => (each.phone ? <Tel number={each.phone} /> : 'No number'),
          },
          {
            name: 'Why',
            cell: (each) =>
              each.reason === 'complained'
                ? `${each.email} marked our mail as unwanted`
                : `${each.email} came back: ${each.detail}`,
          },
          { name: 'Due', cell: (each) => each.open, right: true },
          { name: 'Since', cell: (each) => formatInstant(each.since), right: true },
        ]}
      />
    </Card>
  )
}
