import { useInfiniteQuery, useMutation, useQueryClient } from '@tanstack/react-query'
import { Link } from '@tanstack/react-router'
import { useState } from 'react'
import { dueQueries } from '../../shared/api/due.ts'
import { http } from '../../shared/api/http.ts'
import { formatInstant } from '../../shared/format.ts'
import { Button } from '../../shared/ui/button.tsx'
import { CheckField } from '../../shared/ui/fields.tsx'
import { Tag } from '../../shared/ui/page.tsx'
import { Empty, Fault } from '../../shared/ui/states.tsx'
import { Table } from '../../shared/ui/table.tsx'
import { tell } from '../../shared/ui/toasts.tsx'
import { Tel } from '../../shared/ui/tel.tsx'
import { Paged } from '../shell/list.tsx'
import css from './due.module.css'
import { HomeCell } from './home-cell.tsx'

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
  return (
    <>
      <CheckField label="Show those that were looked at" checked={checked} onChange={setChecked} />
      <Fault error={check.error} />
      <Paged
        list={list}
        empty={
          <Empty title={checked ? 'Nothing yet.' : 'Everything that people told us has been looked at.'} />
        }
      >
        {(rows) => (
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
                cell: (each) => <HomeCell {...each} />,
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
                cell: (each) => each.customerPhone && <Tel number={each.customerPhone} />,
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
      </Paged>
    </>
  )
}
