import { pino } from 'pino'
import { migrate } from '../../prisma/migrate.ts'
import type { PrismaClient } from '../../prisma/generated/client.ts'
import { hashToken } from '../../server/accounts/secrets.ts'
import { buildApp } from '../../server/app.ts'
import { makeBaseCtx } from '../../server/base-ctx.ts'
import { connect } from '../../server/db.ts'
import { readEnv } from '../../server/env.ts'
import { listenForChanges } from '../../server/events/changes.ts'
import { newId } from '../../server/ids.ts'
import { startThrowawayPostgres } from '../services/postgres.ts'
import { KESTREL_ROW } from '../../prisma/seed/company.ts'

export const DAY = '2026-06-01'
const SESSION = 'session-of-the-bench-session-of-the-bench'
const NOW = new Date(`${DAY}T15:00:00Z`)

/** A company of 100,000 homes: 40 technicians with 8 visits each on one day, and one home with 20 years of history. */
export async function startCompany() {
  const postgres = await startThrowawayPostgres()
  const databaseUrl = postgres.url('postgres')
  await migrate(databaseUrl)
  const db = connect(databaseUrl, 10)
  const home = await fill(db)
  const env = readEnv({
    NODE_ENV: 'test',
    DATABASE_URL: databaseUrl,
    SMTP_URL: 'smtp://127.0.0.1:1',
    MAIL_FROM: 'office@example.com',
    PUBLIC_URL: 'http://127.0.0.1:3000',
    SECRET: 'only for the bench, only for the bench',
    LOG_LEVEL: 'silent',
  })
  const base = makeBaseCtx({
    db,
    env,
    log: pino({ level: 'silent' }),
    now: () => NOW,
    enqueue: async () => {},
    files: { put: async () => '', get: async () => null },
  })
  const changes = listenForChanges(databaseUrl, base.log)
  const app = await buildApp(base, changes, { requestsPerMinute: 1_000_000_000 })
  const address = await app.listen({ port: 0, host: '127.0.0.1' })
  return {
    db,
    databaseUrl,
    address,
    home,
    headers: { cookie: `watchlamp=${SESSION}`, origin: 'http://127.0.0.1:3000' },
    stop: async () => {
      await app.close()
      await changes.close()
      await db.$disconnect()
      await postgres.stop()
    },
  }
}

async function fill(db: PrismaClient): Promise<{ propertyId: string; inspectionId: string }> {
  const userId = newId()
  await db.company.create({ data: KESTREL_ROW })
  await db.user.create({ data: { id: userId, email: 'office@example.com', name: 'Office', role: 'office' } })
  await db.session.create({
    data: {
      id: newId(),
      userId,
      tokenHash: hashToken(SESSION),
      userAgent: 'bench',
      ip: '127.0.0.1',
      createdAt: NOW,
      lastSeenAt: NOW,
      expiresAt: new Date('2100-01-01'),
    },
  })
  const run = (sql: string) => db.$executeRawUnsafe(sql)
  await run(`INSERT INTO staff (id, email, name, role)
    SELECT gen_random_uuid(), 't' || n || '@example.com', 'Technician ' || n, 'technician' FROM generate_series(1, 40) n`)
  await run(`INSERT INTO customer (id, kind, name, email, phone, address_lines)
    SELECT gen_random_uuid(), 'person', 'Customer ' || n, 'c' || n || '@example.com', '555-01' || lpad((n % 100)::text, 2, '0'), '{}'
    FROM generate_series(1, 100000) n`)
  await run(`INSERT INTO property (id, line1, city, region, postcode, time_zone, year_built, fuels)
    SELECT gen_random_uuid(), n || ' Quay Lane', 'Port Ansel', 'ME', lpad((n % 10000)::text, 5, '0'), 'America/New_York', 1900 + n % 120, '{electric}'
    FROM generate_series(1, 100000) n`)
  await run(`INSERT INTO property_party (property_id, customer_id, role, is_contact)
    SELECT p.id, c.id, 'owner', true FROM (SELECT id, row_number() OVER (ORDER BY id) n FROM property) p
    JOIN (SELECT id, row_number() OVER (ORDER BY id) n FROM customer) c USING (n)`)
  await run(`INSERT INTO visit (id, property_id, customer_id, technician_id, kind, state, window_starts_at, window_ends_at, starts_at, length_minutes, ends_at)
    SELECT gen_random_uuid(), p.property_id, p.customer_id, t.id, 'inspection', 'booked', at, at + interval '1 hour', at, 50, at + interval '50 minutes'
    FROM (SELECT id, row_number() OVER (ORDER BY id) - 1 AS n FROM staff WHERE role = 'technician') t
    CROSS JOIN generate_series(0, 7) slot
    JOIN (SELECT property_id, customer_id, row_number() OVER (ORDER BY property_id) - 1 AS n FROM property_party) p ON p.n = t.n * 8 + slot
    CROSS JOIN LATERAL (SELECT timestamptz '${DAY} 11:00Z' + slot * interval '1 hour' AS at) s`)
  const [{ id: propertyId }] = await db.$queryRawUnsafe<[{ id: string }]>(
    `SELECT id FROM property ORDER BY id OFFSET 5000 LIMIT 1`,
  )
  await run(
    `INSERT INTO space (id, property_id, kind, name, level) SELECT gen_random_uuid(), '${propertyId}', 'bedroom', 'Room ' || n, 0 FROM generate_series(1, 14) n`,
  )
  await run(`INSERT INTO equipment (id, property_id, kind, label, details)
    SELECT gen_random_uuid(), '${propertyId}', CASE WHEN n <= 60 THEN 'circuit' ELSE 'alarm' END, 'Piece ' || n, '{"ratingAmps": 20, "size": "12"}' FROM generate_series(1, 80) n`)
  await run(`INSERT INTO visit (id, property_id, customer_id, technician_id, kind, state, window_starts_at, window_ends_at, starts_at, length_minutes, ends_at)
    SELECT gen_random_uuid(), '${propertyId}', (SELECT customer_id FROM property_party WHERE property_id = '${propertyId}'),
      (SELECT id FROM staff WHERE role = 'technician' ORDER BY id LIMIT 1), 'inspection', 'finished', at, at + interval '2 hours', at, 90, at + interval '90 minutes'
    FROM generate_series(1, 20) n CROSS JOIN LATERAL (SELECT timestamptz '2006-01-10 14:00Z' + n * interval '365 days' AS at) s`)
  await run(`INSERT INTO inspection (id, property_id, visit_id, technician_id, checklist_version, state)
    SELECT gen_random_uuid(), property_id, id, technician_id, 1, 'open' FROM visit WHERE property_id = '${propertyId}'`)
  await run(`INSERT INTO finding (id, property_id, inspection_id, item_id, severity, text, found_on)
    SELECT gen_random_uuid(), '${propertyId}', i.id, 'panel.general', 'improve', 'Something to improve ' || n, date '2020-01-01'
    FROM (SELECT id FROM inspection WHERE property_id = '${propertyId}' LIMIT 1) i CROSS JOIN generate_series(1, 12) n`)
  await run(`INSERT INTO message (id, kind, category, property_id, to_address, dedupe_key, message_id_header, state, sent_at, subject)
    SELECT gen_random_uuid(), 'due-reminder', 'reminder', '${propertyId}', 'c@example.com', 'bench-' || n, 'bench-' || n || '@example.com', 'sent', now(), 'What is due'
    FROM generate_series(1, 60) n`)
  await run('VACUUM ANALYZE')
  const [{ id: inspectionId }] = await db.$queryRawUnsafe<[{ id: string }]>(
    `SELECT id FROM inspection WHERE property_id = '${propertyId}' ORDER BY id LIMIT 1`,
  )
  return { propertyId, inspectionId }
}
