import type { ReactNode } from 'react'
import css from './table.module.css'

export interface Column<Row> {
  name: string
  /** Nothing is a dash at a desk, and left out on a phone. */
  cell: (row: Row) => ReactNode
  /** Numbers and dates stand to the right. */
  right?: boolean
  /** Sentences: on a phone they take the whole width, under their label. */
  long?: boolean
  /** Left out on a phone, where each row is a small card. */
  deskOnly?: boolean
}

/** A list as a real table: on a phone each row becomes a block with its labels. */
export function Table<Row>({
  caption,
  columns,
  rows,
  rowKey,
}: {
  caption: string
  columns: readonly Column<Row>[]
  rows: readonly Row[]
  rowKey: (row: Row) => string
}) {
  return (
    <div className={css.frame}>
      <table className={css.table}>
        <caption className="visually-hidden">{caption}</caption>
        <thead>
          <tr>
            {columns.map((column) => (
              <th key={column.name} scope="col" data-right={column.right || undefined}>
                {column.name}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={rowKey(row)}>
              {columns.map((column) => {
                const content = column.cell(row) ?? null
                return (
                  <td
                    key={column.name}
                    data-label={column.name}
                    data-right={column.right || undefined}
                    data-long={column.long || undefined}
                    data-desk={column.deskOnly || content === null || undefined}
                  >
                    {content ?? '—'}
                  </td>
                )
              })}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  )
}
