import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { pino } from 'pino'
import { DEMO_PASSWORD } from '../../prisma/seed/logins.ts'
import { seedDemo } from '../../prisma/seed/main.ts'
import { migrate } from '../../prisma/migrate.ts'
import { buildApp } from '../../server/app.ts'
import { makeBaseCtx } from '../../server/base-ctx.ts'
import { connect } from '../../server/db.ts'
import { readEnv } from '../../server/env.ts'
import { listenForChanges } from '../../server/events/changes.ts'
import { diskFiles } from '../../server/gateways/files-disk.ts'
import { dayInZone } from '../../server/time.ts'
import { webFiles } from '../../server/web-files.ts'
import { freePort } from '../services/ports.ts'
import { startThrowawayPostgres } from '../services/postgres.ts'

export const LOGIN = { email: 'technician@example.com', password: DEMO_PASSWORD }

/** The demo company with its pages, and an empty page that its own service worker keeps, from the same server. */
export async function startFieldCompany() {
  const postgres = await startThrowawayPostgres()
  const databaseUrl = postgres.url('postgres')
  await migrate(databaseUrl)
  const dataDir = mkdtempSync(join(tmpdir(), 'watchlamp-bench-'))
  const port = await freePort()
  const url = `http://localhost:${port}`
  const env = readEnv({
    NODE_ENV: 'test',
    DATABASE_URL: databaseUrl,
    SMTP_URL: 'smtp://127.0.0.1:1',
    MAIL_FROM: 'office@example.com',
    PUBLIC_URL: url,
    SECRET: 'only for the bench, only for the bench',
    DATA_DIR: dataDir,
    LOG_LEVEL: 'silent',
  })
  const db = connect(databaseUrl, 5)
  const log = pino({ level: 'silent' })
  const base = makeBaseCtx({ db, env, log, enqueue: async () => {}, files: diskFiles(dataDir) })
  await seedDemo(base, { today: dayInZone(base.now(), 'America/New_York') })
  const changes = listenForChanges(databaseUrl, log)
  const app = await buildApp(base, changes, { requestsPerMinute: 1_000_000_000 })
  await app.register(webFiles, { dataDir })
  for (const [path, type, body] of BARE) app.get(path, (_request, reply) => reply.type(type).send(body))
  await app.listen({ port, host: '127.0.0.1' })
  return {
    url,
    stop: async () => {
      await app.close()
      await changes.close()
      await db.$disconnect()
      await postgres.stop()
      rmSync(dataDir, { recursive: true, force: true })
    },
  }
}

/** The least that can open without signal: one page with one word, and a service worker that keeps it. */
const BARE = [
  [
    '/bare/',
    'text/html',
    '<!doctype html><title>bare</title><main><h2>Today</h2></main><script src="/bare/page.js"></script>',
  ],
  [
    '/bare/page.js',
    'text/javascript',
    "navigator.serviceWorker.register('/bare/sw.js', { scope: '/bare/' })",
  ],
  [
    '/bare/sw.js',
    'text/javascript',
    `addEventListener('install', (event) =>
       event.waitUntil(caches.open('bare').then((kept) => kept.addAll(['/bare/', '/bare/page.js']))))
     addEventListener('fetch', (event) => event.respondWith(caches.match(event.request)))`,
  ],
] as const
