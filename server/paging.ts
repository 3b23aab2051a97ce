import { z } from 'zod'
import { invalid } from './errors.ts'

/** Lists answer `{ items, next }`; `next` goes back as `cursor`. It holds the sort values of the last row: opaque. */
export const pageQuery = {
  cursor: z.string().max(500).optional(),
  limit: z.coerce.number().int().min(1).max(200).default(50),
}
export interface Page<Item> {
  items: Item[]
  next: string | null
}
export const pageOf = <Item extends z.ZodType>(item: Item) =>
  z.object({ items: z.array(item), next: z.string().nullable() })

export function encodeCursor(values: readonly (string | number)[]): string {
  return Buffer.from(JSON.stringify(values)).toString('base64url')
}

/** The sort values in a cursor, checked against the shape that the list expects. */
export function decodeCursor<Shape extends z.ZodType>(
  cursor: string | undefined,
  shape: Shape,
): z.output<Shape> | null {
  if (cursor === undefined) return null
  try {
    return shape.parse(JSON.parse(Buffer.from(cursor, 'base64url').toString()))
  } catch {
    throw invalid({
      pointer: '?cursor',
      detail: 'is not one that this list gave; leave it out to begin anew',
    })
  }
}

/** Cuts the one row too many that the query asked for, and says where the next page begins. */
export function toPage<Item>(
  rows: Item[],
  limit: number,
  sortValues: (last: Item) => (string | number)[],
): Page<Item> {
  if (rows.length <= limit) return { items: rows, next: null }
  const items = rows.slice(0, limit)
  return { items, next: encodeCursor(sortValues(items[items.length - 1]!)) }
}
