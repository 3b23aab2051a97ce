import { existsSync } from 'node:fs'
import { join } from 'node:path'
import { Client } from 'pg'
import { startLastingPostgres } from '../services/postgres.ts'
import { DATA, secretNamed } from './folder.ts'

const NAME = 'watchlamp'

export interface DemoDatabase {
  url: string
  /** Ours to empty; false for the one of DATABASE_URL. */
  isOurs: boolean
  stop: () => Promise<void>
}

/** The database given, or our own. Our own is made anew when asked to, or when its first filling was cut short. */
export async function demoDatabase(givenUrl: string | undefined, fresh: boolean): Promise<DemoDatabase> {
  if (givenUrl) return { url: givenUrl, isOurs: false, stop: () => Promise.resolve() }
  const postgres = await startLastingPostgres(join(DATA, 'postgres'), secretNamed('postgres-password'))
  const client = new Client({ connectionString: postgres.url('postgres') })
  await client.connect()
  try {
    if (fresh || existsSync(join(DATA, 'seeding')))
      await client.query(`DROP DATABASE IF EXISTS ${NAME} WITH (FORCE)`)
    const { rowCount } = await client.query('SELECT FROM pg_database WHERE datname = $1', [NAME])
    if (rowCount === 0) await client.query(`CREATE DATABASE ${NAME}`)
  } finally {
    await client.end()
  }
  return { url: postgres.url(NAME), isOurs: true, stop: postgres.stop }
}
