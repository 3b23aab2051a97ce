/** How often a statement must come before it is prepared, and how many are. */
interface Bounds {
  after?: number
  most?: number
}

/**
 * Names for the statements that come again and again: PostgreSQL then reads and plans each once per connection instead
 * of every time, which is most of the cost of a small query. Statements that vary with their values (a list of ids of
 * every length) would fill its memory, so only those seen often get a name, and only so many.
 *
 * A pooler between us and the database must keep prepared statements apart (PgBouncer does from 1.21 on).
 */
export function statementNames({ after = 3, most = 300 }: Bounds = {}) {
  const names = new Map<string, string>()
  const seen = new Map<string, number>()
  return ({ sql }: { sql: string }): string | undefined => {
    const name = names.get(sql)
    if (name !== undefined || names.size >= most) return name
    const times = (seen.get(sql) ?? 0) + 1
    if (times < after) {
      if (seen.size >= 10 * most) seen.clear()
      seen.set(sql, times)
      return undefined
    }
    seen.delete(sql)
    names.set(sql, `watchlamp_${names.size}`)
    return names.get(sql)
  }
}
