import { Prisma } from '../prisma/generated/client.ts'

/** An instant inside JSON that PostgreSQL builds, written as `Date.toISOString` does. */
export const iso = (column: string): Prisma.Sql =>
  Prisma.raw(`to_char(${column} AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"')`)

/** Adds a condition only where a filter was given. */
export function where(...conditions: (Prisma.Sql | null | undefined | false | '')[]): Prisma.Sql {
  const given = conditions.filter((each): each is Prisma.Sql => Boolean(each))
  return given.length === 0 ? Prisma.empty : Prisma.sql`WHERE ${Prisma.join(given, ' AND ')}`
}
