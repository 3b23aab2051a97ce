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

type Pages<Row> = UseInfiniteQueryResult<InfiniteData<{ items: Row[] }>>

export const rowsOf = <Row,>(list: Pages<Row>): Row[] => list.data?.pages.flatMap((page) => page.items) ?? []

/**
 * A list that comes page by page, in each of its states: on its way, failed, empty, there, with more to come.
 * @param props.empty shown when there is nothing
 */
export function Paged<Row>({
  list,
  empty,
  children,
}: {
  list: Pages<Row>
  empty: ReactNode
  children: (rows: readonly Row[]) => ReactNode
}) {
  const rows = rowsOf(list)
  return (
    <>
      {list.isPending && <Waiting />}
      {list.isError && <Failed error={list.error} retry={() => void list.refetch()} />}
      {list.isSuccess && rows.length === 0 && empty}
      {rows.length > 0 && children(rows)}
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

/**
 * The same as a table under filters.
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
  list: Pages<Row>
  columns: readonly Column<Row>[]
  empty: string
  onClear: () => void
}) {
  const nothing = (
    <Empty title={empty}>
      <Button onPress={onClear}>Show all {of}</Button>
    </Empty>
  )
  return (
    <Paged list={list} empty={nothing}>
      {(rows) => (
        <Table
          caption={of.charAt(0).toUpperCase() + of.slice(1)}
          rows={rows}
          rowKey={(each) => each.id}
          columns={columns}
        />
      )}
    </Paged>
  )
}
