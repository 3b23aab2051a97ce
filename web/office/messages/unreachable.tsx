import { useQuery } from '@tanstack/react-query'
import { Link } from '@tanstack/react-router'
import { messageQueries } from '../../shared/api/due.ts'
import { formatInstant } from '../../shared/format.ts'
import { Card } from '../../shared/ui/page.tsx'
import { Table } from '../../shared/ui/table.tsx'
import { Tel } from '../../shared/ui/tel.tsx'
import { asideInWords, WriteAgain } from './write-again.tsx'

/** People whose address is put aside: only the phone reaches them. Nothing is shown while there are none. */
export function Unreachable() {
  const list = useQuery(messageQueries.unreachable())
  if (!list.data || list.data.items.length === 0) return null
  const { items, more } = list.data
  const people = items.filter(({ customerId }) => customerId !== null)
  const nobodys = items.filter(({ customerId }) => customerId === null)
  const why = { name: 'Why', cell: asideInWords }
  const cut = more > 0 && <p>And {more} more: they appear here as these are seen to.</p>
  const since = {
    name: 'Since',
    cell: (each: { since: string }) => formatInstant(each.since),
    right: true,
  }
  const act = {
    name: 'Act',
    cell: (each: (typeof items)[number]) => <WriteAgain aside={each} />,
    right: true,
  }
  return (
    <>
      {people.length > 0 && (
        <Card title="Phone these people">
          <p>No mail reaches them. Ask for another address and write it down with the customer.</p>
          <Table
            caption="People whom no mail reaches"
            rows={people}
            rowKey={(each) => each.customerId!}
            columns={[
              {
                name: 'Name',
                cell: (each) => (
                  <Link to="/customers/$id" params={{ id: each.customerId! }}>
                    {each.name}
                  </Link>
                ),
              },
              {
                name: 'Phone',
                cell: (each) => (each.phone ? <Tel number={each.phone} /> : 'No number'),
              },
              why,
              { name: 'Due', cell: (each) => each.open, right: true },
              since,
              act,
            ]}
          />
          {nobodys.length === 0 && cut}
        </Card>
      )}
      {nobodys.length > 0 && (
        <Card title="Put aside, and nobody’s">
          <p>No customer has these addresses any more. Whoever is given one gets no mail.</p>
          <Table
            caption="Addresses put aside that no customer has"
            rows={nobodys}
            rowKey={(each) => each.email}
            columns={[why, since, act]}
          />
          {cut}
        </Card>
      )}
    </>
  )
}
