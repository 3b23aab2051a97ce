import type { InfiniteData, UseInfiniteQueryResult } from '@tanstack/react-query'
import type { ReactNode } from 'react'
import { Button } from '../../shared/ui/button.tsx'
import { Empty, Failed, Waiting } from '../../shared/ui/states.tsx'
import { type Column, Table } from '../../shared/ui/table.tsx'
import css from './filters.module.css'

/** The fields above a list that say what is in it. They act as they are typed in; nothing is sent. */
export function Filters({ of, children }: { of: string; children: ReactNode }) {
  return (
    <form
      className={css.filters}
      role="search"
      aria-label={`Filter ${of}`}
      onSubmit={(event) => event.preventDefault()}
    >
      {children}
    </form>
  )
}

/**
 * A list that comes page by page, in each of its states: on its way, failed, empty, there, with more to come.
 * @param props.of what is listed, in the plural: `visits`
 * @param props.empty said when nothing fits the filters
 */
export function PagedTable<Row extends { id: string }>({
  of,
  list,
  columns,
  empty,
  onClear,
}: {
  of: string
  list: UseInfiniteQueryResult<InfiniteData<{ items: Row[] }>>
  columns: readonly Column<Row>[]
  empty: string
  onClear: () => void
}) {
  const rows = list.data?.pages.flatMap((page) => page.items) ?? []
  return (
    <>
      {list.isPending && <Waiting />}
      {list.isError && <Failed error={list.error} retry={() => void list.refetch()} />}
      {list.isSuccess && rows.length === 0 && (
        <Empty title={empty}>
          <Button onPress={onClear}>Show all {of}</Button>
        </Empty>
      )}
      {rows.length > 0 && (
        <Table
          caption={of.charAt(0).toUpperCase() + of.slice(1)}
          rows={rows}
          rowKey={(each) => each.id}
          columns={columns}
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
