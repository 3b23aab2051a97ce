import { useQuery } from '@tanstack/react-query'
import { dueQueries } from '../../shared/api/due.ts'
import { formatDay } from '../../shared/format.ts'
import { Tag } from '../../shared/ui/page.tsx'
import { Empty, Failed, Waiting } from '../../shared/ui/states.tsx'
import { Table } from '../../shared/ui/table.tsx'
import css from './due.module.css'

export type By = 'week' | 'street'

/** What is due, added up by week or by street: the most pressing first; a street with several homes is one trip. */
export function DueGroups({
  by,
  filters,
  onOpen,
}: {
  by: By
  filters: Readonly<Record<string, string>>
  onOpen: (change: Readonly<Record<string, string>>) => void
}) {
  const groups = useQuery(dueQueries.groups(by, filters))
  if (groups.isPending) return <Waiting />
  if (groups.isError) return <Failed error={groups.error} retry={() => void groups.refetch()} />
  if (groups.data.length === 0) return <Empty title="Nothing is due here." />
  return (
    <Table
      caption={by === 'week' ? 'By week' : 'By street'}
      rows={groups.data}
      rowKey={(each) => `${each.key} ${each.city ?? ''}`}
      columns={[
        {
          name: by === 'week' ? 'Week' : 'Street',
          cell: (each) => (
            <button
              type="button"
              className={css.group}
              onClick={() =>
                onOpen(by === 'week' ? { week: each.key } : { onStreet: each.key, city: each.city ?? '' })
              }
            >
              {by === 'week' ? weekInWords(each.key) : each.key}
              {each.city && <small className={css.small}>{each.city}</small>}
            </button>
          ),
        },
        { name: 'Homes', right: true, cell: (each) => each.homes },
        { name: 'Things due', right: true, cell: (each) => each.followUps },
        {
          name: 'Past their date',
          right: true,
          cell: (each) => (each.overdue > 0 ? <Tag tone="bad">{each.overdue}</Tag> : null),
        },
        { name: 'Earliest', right: true, cell: (each) => formatDay(each.earliest) },
      ]}
    />
  )
}

export const weekInWords = (week: string) =>
  week === 'earlier' ? 'Before this week' : `Week of ${formatDay(week)}`
