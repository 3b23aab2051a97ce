import { pino } from 'pino'
import { migrate } from '../../prisma/migrate.ts'
import { makeBaseCtx } from '../../server/base-ctx.ts'
import { type Ctx, systemCtx } from '../../server/ctx.ts'
import { connect } from '../../server/db.ts'
import { readEnv } from '../../server/env.ts'
import type { Postgres } from '../services/postgres.ts'
import { KESTREL_ROW } from '../../prisma/seed/company.ts'

export const TODAY = '2026-06-01'
const NOW = new Date(`${TODAY}T15:00:00Z`)
export const DEVICES_PER_HOME = 8

const id = (kind: number, n: string) =>
  `('00000000-000${kind}-7000-8000-' || lpad(to_hex(${n}), 12, '0'))::uuid`

/**
 * A company with so many homes of eight dated devices, of which `due` homes have one that begins to be spoken of today.
 * Filled with the indexes away and the foreign keys asleep: it is the sweep that is measured, not the filling.
 */
export async function fillCompany(postgres: Postgres, name: string, homes: number, due: number) {
  const admin = connect(postgres.url('postgres'), 1)
  await admin.$executeRawUnsafe(`CREATE DATABASE ${name}`)
  await admin.$disconnect()
  const url = postgres.url(name)
  await migrate(url)
  const db = connect(url, 10)
  await db.company.create({ data: KESTREL_ROW })
  const every = Math.floor(homes / due)
  const indexes = await db.$queryRawUnsafe<{ drop: string; make: string }[]>(`
    SELECT 'DROP INDEX ' || indexname AS drop, indexdef AS make FROM pg_indexes
     WHERE tablename IN ('customer', 'property', 'property_party', 'equipment') AND indexname NOT LIKE '%_pkey'`)
  await db.$transaction(
    async (tx) => {
      const run = (sql: string) => tx.$executeRawUnsafe(sql)
      await run(`SET LOCAL session_replication_role = replica`)
      for (const { drop } of indexes) await run(drop)
      await run(`INSERT INTO customer (id, kind, name, email, phone, address_lines)
        SELECT ${id(1, 'n')}, 'person', 'Customer ' || n, 'c' || n || '@example.com', '555-0142', '{}'
          FROM generate_series(1, ${homes}) n`)
      await run(`INSERT INTO property (id, line1, city, region, postcode, time_zone, year_built, fuels, last_inspected_on)
        SELECT ${id(2, 'n')}, n || ' Quay Lane', 'Port Ansel', 'ME', lpad((n % 10000)::text, 5, '0'),
               (ARRAY['America/New_York', 'America/Chicago', 'America/Denver', 'America/Los_Angeles'])[1 + n % 4],
               1980 + n % 40, '{electric}', date '${TODAY}' - (n % 300)::int
          FROM generate_series(1, ${homes}) n`)
      await run(`INSERT INTO property_party (property_id, customer_id, role, is_contact)
        SELECT ${id(2, 'n')}, ${id(1, 'n')}, 'owner', true FROM generate_series(1, ${homes}) n`)
      await run(`INSERT INTO equipment (id, property_id, kind, label, details, manufactured_on, replace_by)
        SELECT ${id(3, `n * ${DEVICES_PER_HOME} + k`)}, ${id(2, 'n')}, 'alarm', 'Alarm ' || k,
               '{"senses": "smoke", "power": "mains"}', (d.replace_by - interval '10 years')::date, d.replace_by
          FROM generate_series(1, ${homes}) n CROSS JOIN generate_series(1, ${DEVICES_PER_HOME}) k
         CROSS JOIN LATERAL (SELECT CASE WHEN k = 1 AND n % ${every} = 0 AND n / ${every} <= ${due}
           THEN date '${TODAY}' + 90 ELSE date '${TODAY}' + 120 + ((n * 7 + k * 401) % 3400)::int END AS replace_by) d`)
      for (const { make } of indexes) await run(make)
    },
    { timeout: 3_600_000 },
  )
  await db.$executeRawUnsafe('VACUUM ANALYZE')
  const env = readEnv({
    NODE_ENV: 'test',
    DATABASE_URL: url,
    SMTP_URL: 'smtp://127.0.0.1:1',
    MAIL_FROM: 'office@example.com',
    PUBLIC_URL: 'http://127.0.0.1:3000',
    SECRET: 'only for the bench, only for the bench',
    LOG_LEVEL: 'silent',
  })
  const ctx: Ctx = systemCtx(
    makeBaseCtx({
      db,
      env,
      log: pino({ level: 'silent' }),
      now: () => NOW,
      enqueue: async () => {},
      files: { put: async () => '', get: async () => null },
    }),
  )
  return { ctx, url }
}
