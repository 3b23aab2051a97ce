import { Link } from '@tanstack/react-router'
import { useQuery } from '@tanstack/react-query'
import type { HomeView } from '../../../server/properties/home-schema.ts'
import { meQuery } from '../../shared/api/me.ts'
import { formatDay } from '../../shared/format.ts'
import { Card, Tag } from '../../shared/ui/page.tsx'
import { Empty } from '../../shared/ui/states.tsx'
import { Table } from '../../shared/ui/table.tsx'
import { SurgeEventButton } from '../due/surge-event.tsx'

/** What is due at this home, the earliest first. */
export function DueAtHome({ home }: { home: HomeView }) {
  const { data: me } = useQuery(meQuery)
  const open = home.followUps.filter((each) => !each.closedAt)
  const hasProtector = home.equipment.some((each) => each.kind === 'surge-protector' && !each.retiredOn)
  return (
    <Card
      title="Due"
      actions={
        <>
          {hasProtector && <SurgeEventButton propertyId={home.id} small />}
          <Link to="/due" search={{ propertyId: home.id }}>
            In the worklist
          </Link>
        </>
      }
    >
      {open.length === 0 ? (
        <Empty title="Nothing is due here." />
      ) : (
        <Table
          caption="Due"
          rows={open}
          rowKey={(each) => each.id}
          columns={[
            { name: 'What', cell: (each) => each.reason },
            {
              name: 'Due',
              cell: (each) => (
                <>
                  {formatDay(each.dueOn)} {me && each.dueOn < me.today && <Tag tone="lamp">overdue</Tag>}{' '}
                  {each.assumed && <Tag>assumed</Tag>}
                </>
              ),
            },
            { name: 'State', cell: (each) => each.state },
            {
              name: 'Next letter',
              cell: (each) => (each.nextNoticeOn ? formatDay(each.nextNoticeOn) : null),
              right: true,
            },
          ]}
        />
      )}
    </Card>
  )
}
