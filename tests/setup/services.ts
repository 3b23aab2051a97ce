import { randomUUID } from 'node:crypto'
import { Client } from 'pg'
import type { TestProject } from 'vitest/node'
import { migrate } from '../../prisma/migrate.ts'
import { startThrowawayPostgres } from '../../scripts/services/postgres.ts'
import { startThrowawayRedis } from '../../scripts/services/redis.ts'

// The real services that tests talk to, started once for a run, whichever projects take part in it, and gone after it.
// TEST_DATABASE_ADMIN_URL (a role that may create databases) and TEST_REDIS_URL name servers to use instead.

declare module 'vitest' {
  export interface ProvidedContext {
    /** The server's own database, from which others are created. */
    databaseAdminUrl: string
    /** A migrated, empty database to clone. */
    databaseTemplate: string
    /** Null where no redis-server is installed. */
    redisUrl: string | null
  }
}

interface Services {
  databaseAdminUrl: string
  databaseTemplate: string
  redisUrl: string | null
  stop: () => Promise<void>
}

// vitest loads this file once per project; what runs must be shared beyond the module.
const shared = globalThis as { watchlampTestServices?: { running: Promise<Services>; users: number } }

export async function setup(project: TestProject): Promise<() => Promise<void>> {
  const services = (shared.watchlampTestServices ??= { running: startServices(), users: 0 })
  services.users++
  const { databaseAdminUrl, databaseTemplate, redisUrl, stop } = await services.running
  project.provide('databaseAdminUrl', databaseAdminUrl)
  project.provide('databaseTemplate', databaseTemplate)
  project.provide('redisUrl', redisUrl)
  return async () => {
    if (--services.users > 0) return
    delete shared.watchlampTestServices
    await stop()
  }
}

async function startServices(): Promise<Services> {
  const given = { database: process.env.TEST_DATABASE_ADMIN_URL, redis: process.env.TEST_REDIS_URL }
  const [postgres, redis] = await Promise.all([
    given.database ? null : startThrowawayPostgres(),
    given.redis ? null : startThrowawayRedis(),
  ])
  const databaseAdminUrl = given.database ?? postgres!.url('postgres')
  const databaseTemplate = `watchlamp_template_${randomUUID().slice(0, 8)}`
  await onServer(databaseAdminUrl, `CREATE DATABASE ${databaseTemplate}`)
  await migrate(withDatabase(databaseAdminUrl, databaseTemplate))
  // Tables that autovacuum has not seen make poor plans; the statistics come along with every clone.
  await onServer(withDatabase(databaseAdminUrl, databaseTemplate), 'VACUUM ANALYZE')
  return {
    databaseAdminUrl,
    databaseTemplate,
    redisUrl: given.redis ?? redis?.url ?? null,
    stop: async () => {
      if (given.database) await onServer(databaseAdminUrl, `DROP DATABASE ${databaseTemplate} WITH (FORCE)`)
      await Promise.all([postgres?.stop(), redis?.stop()])
    },
  }
}

/** The address of another database on the same server. */
export function withDatabase(url: string, database: string): string {
  const changed = new URL(url)
  changed.pathname = `/${database}`
  return changed.href
}

export async function onServer(url: string, sql: string): Promise<void> {
  const client = new Client({ connectionString: url })
  await client.connect()
  try {
    await client.query(sql)
  } finally {
    await client.end()
  }
}
