import { migrationState, type MigrationState, readMigrations } from '../../prisma/migrate.ts'

/** Why something is not fit for work, in words that a stranger may read; null when it is. */
export type Check = () => Promise<string | null>

/** Runs one statement and gives its rows: `db.$queryRawUnsafe`, or a pool. */
type Query = (sql: string) => Promise<unknown[]>

export function databaseCheck(query: Query): Check {
  return async () => {
    await query('SELECT 1')
    return null
  }
}

export function migrationsCheck(query: Query): Check {
  const migrations = readMigrations()
  let current = false
  return async () => {
    // A database that was brought up to date stays so for as long as this process runs.
    if (current) return null
    const fault = migrationFault(await migrationState(query, migrations))
    current = fault === null
    return fault
  }
}

function migrationFault({ pending, unknown, failed }: MigrationState): string | null {
  if (unknown.length > 0) return 'the database is of a newer version than this program'
  if (failed.length > 0) return `${failed.length} migration(s) begun and not finished`
  if (pending.length > 0) return `${pending.length} migration(s) to apply: run npm run migrate`
  return null
}

export function redisCheck(client: { ping: () => Promise<unknown> }): Check {
  return async () => {
    await client.ping()
    return null
  }
}

const PATIENCE_MS = 2000

/** Asks all at once, none for longer than two seconds.
 *  @returns what each said: 'ok' or what is wrong */
export async function runChecks(checks: Record<string, Check>): Promise<Record<string, string>> {
  const asked = Object.entries(checks).map(async ([name, check]) => [name, await verdictOf(check)] as const)
  return Object.fromEntries(await Promise.all(asked))
}

async function verdictOf(check: Check): Promise<string> {
  let timer: NodeJS.Timeout | undefined
  const tooSlow = new Promise<string>((resolve) => {
    timer = setTimeout(() => resolve(`no answer within ${PATIENCE_MS / 1000} s`), PATIENCE_MS)
  })
  // What went wrong in detail is for the log of whoever runs it, not for whoever asks.
  const answer = check().then(
    (fault) => fault ?? 'ok',
    () => 'cannot be reached',
  )
  return Promise.race([answer, tooSlow]).finally(() => clearTimeout(timer))
}
