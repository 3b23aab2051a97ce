import { useInfiniteQuery, useMutation, useQueryClient } from '@tanstack/react-query'
import { Link } from '@tanstack/react-router'
import { useState } from 'react'
import { dueQueries } from '../../shared/api/due.ts'
import { http } from '../../shared/api/http.ts'
import { formatInstant } from '../../shared/format.ts'
import { Button } from '../../shared/ui/button.tsx'
import { CheckField } from '../../shared/ui/fields.tsx'
import { Tag } from '../../shared/ui/page.tsx'
import { Empty, Failed, Fault, Waiting } from '../../shared/ui/states.tsx'
import { Table } from '../../shared/ui/table.tsx'
import { tell } from '../../shared/ui/toasts.tsx'
import css from './due.module.css'

/** What people said on their pages: somebody looks at each, for a date may be read wrong and a home be sold. */
export function Answers() {
  const queryClient = useQueryClient()
  const [checked, setChecked] = useState(false)
  const list = useInfiniteQuery(dueQueries.answers(checked))
  const check = useMutation({
    mutationFn: (id: string) => http.post(`/homeowner-answers/${id}/check`, {}),
    onSuccess: () => {
      void queryClient.invalidateQueries({ queryKey: dueQueries.all() })
      tell('Looked at.')
    },
  })
  const rows = list.data?.pages.flatMap((page) => page.items) ?? []
  return (
    <>
      <CheckField label="Show those that were looked at" checked={checked} onChange={setChecked} />
      <Fault error={check.error} />
      {list.isPending && <Waiting />}
      {list.isError && <Failed error={list.error} retry={() => void list.refetch()} />}
      {list.isSuccess && rows.length === 0 && (
        <Empty title={checked ? 'Nothing yet.' : 'Everything that people told us has been looked at.'} />
      )}
      {rows.length > 0 && (
        <Table
          caption="What people said on their pages"
          rows={rows}
          rowKey={(each) => each.id}
          columns={[
            {
              name: 'What they said',
              long: true,
              cell: (each) => (
                <>
                  {each.words} {each.takenBackAt && <Tag>taken back</Tag>}
                  <small className={css.small}>{formatInstant(each.at)}</small>
                </>
              ),
            },
            { name: 'What to do', long: true, cell: (each) => each.todo },
            {
              name: 'Home',
              cell: (each) => (
                <>
                  <Link to="/homes/$id" params={{ id: each.propertyId }}>
                    {each.line1}
                  </Link>
                  <small className={css.small}>{each.city}</small>
                </>
              ),
            },
            {
              name: 'Customer',
              cell: (each) => (
                <Link to="/customers/$id" params={{ id: each.customerId }}>
                  {each.customerName}
                </Link>
              ),
            },
            {
              name: 'Phone',
              cell: (each) =>
                each.customerPhone ? <a href={`tel:${each.customerPhone}`}>{each.customerPhone}</a> : null,
            },
            {
              name: 'Act',
              right: true,
              cell: (each) =>
                checked ? (
                  each.checkedBy
                ) : (
                  <Button
                    small
                    isPending={check.isPending}
                    onPress={() => check.mutate(each.id)}
                    aria-label={`Looked at: ${each.words}`}
                  >
                    Looked at
                  </Button>
                ),
            },
          ]}
        />
      )}
      {list.hasNextPage && (
        <div>
          <Button onPress={() => void list.fetchNextPage()} isPending={list.isFetchingNextPage}>
            Show more
          </Button>
        </div>
      )}
    </>
  )
}
