import { sqlFault } from './db.ts'
import { Problem } from './errors.ts'

/** What the sender can mend among the faults that the database found; null for any other error. */
export function problemOfSql(error: unknown): Problem | null {
  const code = sqlFault(error)?.code
  // Values that no schema can know to be wrong: a zero byte in a text, a number out of the column's range.
  if (code?.startsWith('22'))
    return new Problem('invalid-request', 'A value in the request cannot be stored.')
  if (code === '23503')
    return new Problem('invalid-request', 'The request names a record that does not exist.')
  if (code === '23505') return new Problem('already-exists', 'A record with that id or name exists already.')
  return null
}
