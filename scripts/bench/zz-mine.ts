import * as P from '../../prisma/generated/client.ts'
import { Client } from 'pg'
import autocannon from 'autocannon'
import Fastify from 'fastify'
import pg from 'pg'
import { pino } from 'pino'
import { performance } from 'node:perf_hooks'
import { migrate } from '../../prisma/migrate.ts'
import { startThrowawayPostgres } from '../services/postgres.ts'
import { fillBigCompany, BUSY_DAY } from './big-company.ts'
import { buildApp } from '../../server/app.ts'
import { makeBaseCtx } from '../../server/base-ctx.ts'
import { connect } from '../../server/db.ts'
import { readEnv } from '../../server/env.ts'
import { hashToken } from '../../server/accounts/secrets.ts'
import { newId } from '../../server/ids.ts'
import { listenForChanges } from '../../server/events/changes.ts'
import { memoryFiles } from '../../tests/build/files.ts'

const HOMES = Number(process.env.HOMES ?? 100000)
import { readFileSync } from 'node:fs'
const { url, longest } = JSON.parse(readFileSync('/tmp/bigdb.json', 'utf8'))
const client = new Client(url); await client.connect()
let t = 0
try {
await client.query(`DELETE FROM session; DELETE FROM staff WHERE role = 'office'`)
const officeId = newId()
  await client.query(`INSERT INTO staff (id,email,name,role) VALUES ($1,'o@example.com','Office','office')`, [
    officeId,
  ])
  const techId = (await client.query(`SELECT id FROM staff WHERE role='technician' ORDER BY name LIMIT 1`))
    .rows[0].id
  for (const [id, tok] of [
    [officeId, 'office-token'],
    [techId, 'tech-token'],
  ])
    await client.query(
      `INSERT INTO session (id,user_id,token_hash,user_agent,ip,expires_at,last_seen_at) VALUES ($1,$2,$3,'x','x','2100-01-01',now())`,
      [newId(), id, hashToken(tok)],
    )
  const env = readEnv({
    NODE_ENV: 'test',
    DATABASE_URL: url,
    SMTP_URL: 'smtp://127.0.0.1:1',
    MAIL_FROM: 'O <o@example.com>',
    PUBLIC_URL: 'http://localhost:3000',
    SECRET: 'only for tests, only for tests, only for tests',
    LOG_LEVEL: 'silent',
  })
  const db = connect(url, 10)
  const base = makeBaseCtx({
    db,
    env,
    files: memoryFiles(),
    log: pino({ level: 'silent' }),
    enqueue: async () => {},
  })
  const changes = listenForChanges(url, base.log)
  const app = await buildApp(base, changes)
  await app.ready()
  const get = async (path: string, tok = 'office-token') => {
    const times: number[] = []
    let r
    for (let i = 0; i < 4; i++) {
      const t = performance.now()
      r = await app.inject({ url: '/api/v1' + path, headers: { cookie: `watchlamp=${tok}` } })
      times.push(performance.now() - t)
    }
    const body = r!.body
    let n = ''
    try {
      const j = JSON.parse(body)
      n = Array.isArray(j.items)
        ? `${j.items.length} items`
        : j.customers
          ? `c${j.customers.length} p${j.properties.length} v${j.visits?.length}`
          : ''
    } catch {}
    console.log(
      r!.statusCode,
      path,
      times.map((x) => x.toFixed(0)).join(' '),
      'ms',
      (body.length / 1024).toFixed(0) + ' kB',
      n,
    )
  }
  const e = encodeURIComponent
  await get('/visits/day?day=' + BUSY_DAY)
  await get('/my-day?day=' + BUSY_DAY, 'tech-token')
  await get('/properties/' + longest)
  for (const p of [
    '/customers',
    '/customers?q=johnson',
    '/customers?q=jhonson',
    '/customers?q=' + e('Ana Muñoz 12'),
    '/customers?q=zwyczajny',
    '/customers?q=5550123',
    '/customers?q=a',
    '/properties',
    '/properties?q=' + e('14 quay lane'),
    '/properties?q=lane',
    '/properties?q=' + e('14 qauy lane'),
    '/properties?q=johnson',
    '/properties?q=zwyczajny',
    '/properties?due=overdue',
    '/properties?due=soon',
    '/properties?due=none',
    '/properties?builtFrom=1950&builtTo=1951',
    '/requests',
    '/visits',
    '/visits?order=latest',
    '/visits?from=2026-06-01&to=2026-06-07',
    '/visits?q=johnson',
    '/visits?q=' + e('14 quay lane'),
    '/visits?q=jhonson&from=2026-06-01',
    '/visits?state=cancelled',
    '/search?q=johnson',
    '/search?q=jhonson',
    '/search?q=' + e('14 quay lane'),
    '/search?q=' + e('14 qauy lane'),
    '/search?q=lane',
    '/search?q=zwyczajny',
    '/search?q=' + e('(555) 012-3123'),
    '/search?q=a',
    '/customers/duplicates?line1=' + e('14 Quay Ln') + '&phone=5550123123&email=person-5@example.com',
    '/visits/free-windows?from=2026-06-01&days=14&propertyId=' + longest,
  ])
    await get(p)
  await get('/search?q=quay', 'tech-token')
  await get('/visits', 'tech-token')
  t = performance.now()
  const csv = await app.inject({
    url: '/api/v1/properties/export.csv',
    headers: { cookie: 'watchlamp=office-token' },
  })
  console.log('csv', csv.statusCode, Math.round(performance.now() - t), 'ms', csv.body.length)
  const cust = (await client.query(`SELECT customer_id FROM property_party WHERE property_id=$1`, [longest]))
    .rows[0].customer_id
  await get('/customers/' + cust)

  // throughput
  const pool = new pg.Pool({ connectionString: url, max: 10 })
  const bare = Fastify()
  const daySql = `SELECT v.id, v.kind, v.state, v.window_starts_at, v.window_ends_at, v.starts_at, v.ends_at, v.length_minutes, v.customer_id, c.name, c.phone, v.property_id, p.line1, p.line2, p.city, p.postcode, p.time_zone, p.latitude, p.longitude, v.note, i.id AS inspection_id, i.state AS inspection_state, v.version, v.technician_id, s.name AS technician
 FROM visit v JOIN property p ON p.id=v.property_id JOIN customer c ON c.id=v.customer_id JOIN staff s ON s.id=v.technician_id LEFT JOIN inspection i ON i.visit_id=v.id WHERE v.starts_at >= $1 AND v.starts_at < $2 ORDER BY s.name, v.starts_at`
  bare.get(
    '/day',
    async () => (await pool.query(daySql, ['2026-06-03T04:00:00Z', '2026-06-04T04:00:00Z'])).rows,
  )
  let homeSql = ''
  {
    const log: string[] = []
    const c2 = connect(url, 1)
    const orig = (c2 as any).$queryRaw.bind(c2)
    const { readHome } = await import('../../server/properties/home-store.ts')
    await readHome(
      {
        $queryRaw: (s: any, ...v: any[]) => {
          const q = s.sql ? s : null
          homeSql = ''
          const { Prisma } = P
          const sql = Prisma.sql(s, ...v)
          homeSql = sql.text
          return orig(sql)
        },
      } as any,
      longest,
      true,
    )
    await c2.$disconnect()
  }
  bare.get('/home/:id', async (req: any) => (await pool.query(homeSql, [req.params.id])).rows[0].json)
  await bare.listen({ port: 0, host: '127.0.0.1' })
  await app.listen({ port: 0, host: '127.0.0.1' })
  const at = (a: any) => `http://127.0.0.1:${a.server.address().port}`
  const shoot = async (u: string) => {
    const r = await autocannon({
      url: u,
      connections: 10,
      duration: 6,
      headers: { cookie: 'watchlamp=office-token' },
    })
    return { rps: r.requests.average, non2xx: r.non2xx, kB: r.throughput.average / 1024 / r.requests.average }
  }
  for (let round = 0; round < 2; round++)
    for (const [name, ours, theirs] of [
      ['day', '/api/v1/visits/day?day=' + BUSY_DAY, '/day'],
      ['home', '/api/v1/properties/' + longest, '/home/' + longest],
    ]) {
      const b = await shoot(at(bare) + theirs)
      const o = await shoot(at(app) + ours)
      console.log(name, { ours: o, bare: b, ratio: (o.rps / b.rps).toFixed(2) })
    }
  await app.close()
  await bare.close()
  await pool.end()
  await changes.close()
  await db.$disconnect()
  } catch (error) {
  console.error(error)
} finally {
  process.on('uncaughtException', () => {})
  await pgs.stop()
}
process.exit(0)
