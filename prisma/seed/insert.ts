import type { PrismaClient } from '../generated/client.ts'

const ROWS_AT_ONCE = 5000

/**
 * Inserts rows of one table, many per statement: they travel as one JSON text and PostgreSQL gives each value the type
 * of its column. Columns that a row leaves out get their default, so rows are sorted by what they name.
 */
export async function insertRows(db: PrismaClient, table: string, rows: readonly object[]): Promise<void> {
  const alike = new Map<string, object[]>()
  for (const row of rows) {
    const columns = Object.keys(row).map(snake).join(', ')
    const group = alike.get(columns) ?? []
    if (group.length === 0) alike.set(columns, group)
    group.push(Object.fromEntries(Object.entries(row).map(([name, value]) => [snake(name), value])))
  }
  for (const [columns, group] of alike) {
    for (let from = 0; from < group.length; from += ROWS_AT_ONCE) {
      await db.$executeRawUnsafe(
        `INSERT INTO ${table} (${columns}) SELECT ${columns} FROM jsonb_populate_recordset(NULL::${table}, $1::jsonb)`,
        JSON.stringify(group.slice(from, from + ROWS_AT_ONCE)),
      )
    }
  }
}

const snake = (name: string) => name.replace(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`)
