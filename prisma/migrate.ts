import { createHash, randomUUID } from 'node:crypto'
import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { Client, type DatabaseError } from 'pg'

// Applies prisma/migrations to a database without the Prisma CLI, whose engine would have to be downloaded. The
// bookkeeping is Prisma's own, so `prisma migrate status` and `deploy` agree with it for whoever has the CLI.

/** The key under which Prisma locks while it migrates: whoever uses the CLI waits for us, and we for them. */
const MIGRATION_LOCK = 72707369

const here = fileURLToPath(new URL('./migrations', import.meta.url))

export interface Migration {
  name: string
  sql: string
  checksum: string
}

export interface MigrationState {
  /** In the code, not yet in the database, in order. */
  pending: string[]
  /** In the database, unknown to the code: a newer version was here. */
  unknown: string[]
  /** Applied, and edited since. */
  edited: string[]
  /** Begun by the Prisma CLI and never finished. */
  failed: string[]
}

/** Why a database cannot be brought to this version, in words that say what to do. */
export class MigrationError extends Error {
  override name = 'MigrationError'
}

/** The migrations that this version of the program carries, oldest first. */
export function readMigrations(folder = here): Migration[] {
  return readdirSync(folder, { withFileTypes: true })
    .filter((entry) => entry.isDirectory() && existsSync(`${folder}/${entry.name}/migration.sql`))
    .map((entry) => entry.name)
    .sort()
    .map((name) => {
      const sql = readFileSync(`${folder}/${name}/migration.sql`, 'utf8')
      return { name, sql, checksum: createHash('sha256').update(sql).digest('hex') }
    })
}

type Query = (sql: string) => Promise<unknown[]>

/** How a database stands to the code. `query` runs one statement and gives its rows, so a Prisma client serves too. */
export async function migrationState(query: Query, migrations = readMigrations()): Promise<MigrationState> {
  const [found] = (await query(`SELECT to_regclass('_prisma_migrations') IS NOT NULL AS "there"`)) as {
    there: boolean
  }[]
  const rows = found?.there
    ? ((await query(
        `SELECT migration_name AS name, checksum, finished_at IS NOT NULL AS finished
         FROM _prisma_migrations WHERE rolled_back_at IS NULL ORDER BY migration_name`,
      )) as { name: string; checksum: string; finished: boolean }[])
    : []
  const known = new Map(migrations.map((migration) => [migration.name, migration]))
  const applied = rows.filter((row) => row.finished)
  const appliedNames = new Set(applied.map((row) => row.name))
  return {
    pending: migrations.map(({ name }) => name).filter((name) => !appliedNames.has(name)),
    unknown: applied.map(({ name }) => name).filter((name) => !known.has(name)),
    edited: applied
      .filter((row) => known.has(row.name) && known.get(row.name)!.checksum !== row.checksum)
      .map(({ name }) => name),
    failed: rows.filter((row) => !row.finished).map(({ name }) => name),
  }
}

/** Brings a database to this version: each new file whole, in one transaction, under one lock. Any number of processes
 *  may call it at once; one does the work and the others find it done.
 *  @returns the names applied now, oldest first
 *  @throws MigrationError when the database is newer, was half migrated, or a file fails (nothing of it is kept) */
export async function migrate(
  databaseUrl: string,
  options: { migrations?: Migration[]; onApplied?: (name: string) => void } = {},
): Promise<string[]> {
  const migrations = options.migrations ?? readMigrations()
  const client = new Client({ connectionString: databaseUrl, application_name: 'watchlamp migrate' })
  // A connection that breaks later also rejects the query in hand; without a listener it would end the process.
  client.on('error', () => {})
  await client.connect()
  try {
    await client.query('SELECT pg_advisory_lock($1)', [MIGRATION_LOCK])
    const state = await migrationState(async (sql) => (await client.query(sql)).rows, migrations)
    refuseWhatCannotBeMigrated(state)
    await client.query(BOOKKEEPING)
    for (const name of state.pending) {
      await apply(
        client,
        migrations.find((migration) => migration.name === name)!,
      )
      options.onApplied?.(name)
    }
    return state.pending
  } finally {
    await client.end() // which also gives the lock back
  }
}

export function refuseWhatCannotBeMigrated(state: MigrationState): void {
  if (state.unknown.length > 0) {
    throw new MigrationError(
      `This database was used by a newer version: it has ${state.unknown.join(', ')}, unknown here. ` +
        'Start that version again, or restore a backup made before the upgrade.',
    )
  }
  if (state.failed.length > 0) {
    throw new MigrationError(
      `Migration ${state.failed.join(', ')} was begun by another tool and never finished. ` +
        'Restore a backup, or settle it with `npx prisma migrate resolve`.',
    )
  }
  if (state.edited.length > 0) {
    throw new MigrationError(
      `Migration ${state.edited.join(', ')} was edited after this database had it. ` +
        'Put the file back as it was and say the change in a new migration.',
    )
  }
}

async function apply(client: Client, { name, sql, checksum }: Migration): Promise<void> {
  await client.query('BEGIN')
  try {
    // Without parameters the whole file goes as one message: PostgreSQL splits it, function bodies and all.
    await client.query(sql)
    await client.query(
      `INSERT INTO _prisma_migrations (id, checksum, migration_name, started_at, finished_at, applied_steps_count)
       VALUES ($1, $2, $3, now(), clock_timestamp(), 1)`,
      [randomUUID(), checksum, name],
    )
    await client.query('COMMIT')
  } catch (error) {
    await client.query('ROLLBACK').catch(() => {})
    const { message, position } = error as DatabaseError
    const line = position ? `, line ${sql.slice(0, Number(position)).split('\n').length}` : ''
    throw new MigrationError(`Migration ${name} failed${line}, and nothing of it was kept: ${message}`, {
      cause: error,
    })
  }
}

/** Prisma's table, column for column. */
const BOOKKEEPING = `CREATE TABLE IF NOT EXISTS _prisma_migrations (
  id VARCHAR(36) PRIMARY KEY NOT NULL,
  checksum VARCHAR(64) NOT NULL,
  finished_at TIMESTAMPTZ,
  migration_name VARCHAR(255) NOT NULL,
  logs TEXT,
  rolled_back_at TIMESTAMPTZ,
  started_at TIMESTAMPTZ NOT NULL DEFAULT now(),
  applied_steps_count INTEGER NOT NULL DEFAULT 0
)`
