import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { pino } from 'pino'
import { afterAll } from 'vitest'
import { hashPassword } from '../../server/accounts/secrets.ts'
import { buildApp } from '../../server/app.ts'
import { makeBaseCtx } from '../../server/base-ctx.ts'
import { systemCtx } from '../../server/ctx.ts'
import { connect } from '../../server/db.ts'
import { readEnv } from '../../server/env.ts'
import { listenForChanges } from '../../server/events/changes.ts'
import { diskFiles } from '../../server/gateways/files-disk.ts'
import { smtpMailer } from '../../server/gateways/mail-smtp.ts'
import { newId } from '../../server/ids.ts'
import { makeJobQueue, makeWorker } from '../../server/queue.ts'
import { webFiles } from '../../server/web-files.ts'
import type { Role } from '../../trade/permissions.ts'
import { makeHandlers } from '../../worker/handlers.ts'
import { portFrom } from '../../scripts/services/ports.ts'
import { testDatabase } from './database.ts'
import { testMail } from './mail.ts'
import { testRedis } from './redis.ts'
import type { Signal } from './signal.ts'

export const PASSWORD = 'lamp in the window'

/**
 * Everything that runs in production, in this process: API with its pages, worker, queue on Redis, mail over SMTP.
 * @param options.signal stands between the company and everybody who uses it
 * @param options.webDir built pages, instead of those of dist/
 */
export async function startCompany({ signal, webDir }: { signal?: Signal; webDir?: string } = {}) {
  const [database, redisUrl, mail] = [await testDatabase(), await testRedis(), await testMail()]
  // Between finding a port free and taking it another process of the tests could take it: each looks among its own.
  const port = await portFrom(20_000 + 10 * (process.pid % 1000), () => {})
  const dataDir = mkdtempSync(join(tmpdir(), 'watchlamp-files-'))
  const env = readEnv({
    NODE_ENV: 'test',
    DATABASE_URL: database.url,
    REDIS_URL: redisUrl,
    SMTP_URL: mail.smtpUrl,
    MAIL_FROM: 'Kestrel Row Electric <office@example.com>',
    PUBLIC_URL: signal?.url ?? `http://localhost:${port}`,
    SECRET: 'only for tests, only for tests, only for tests',
    DATA_DIR: dataDir,
    LOG_LEVEL: 'error',
  })
  const log = pino({ level: env.logLevel })
  const db = connect(database.url, 10)
  const queue = makeJobQueue(env, log)
  const base = makeBaseCtx({ db, env, log, enqueue: queue.enqueue, files: diskFiles(env.dataDir) })
  const changes = listenForChanges(database.url, log)
  const app = await buildApp(base, changes, { requestsPerMinute: 100_000 })
  await app.register(webFiles, { dataDir, ...(webDir && { webDir }) })
  await app.listen({ port, host: '127.0.0.1' })
  signal?.leadTo(`http://127.0.0.1:${port}`)
  const mailer = smtpMailer(env)
  const worker = makeWorker(env, log, makeHandlers({ ctx: systemCtx(base), mailer, queue }))
  await worker.ready()
  worker.run()
  afterAll(async () => {
    await app.close()
    await worker.close()
    await queue.close()
    await changes.close()
    mailer.close()
    await db.$disconnect()
    await signal?.stop()
    rmSync(dataDir, { recursive: true, force: true })
  })

  const person = async (role: Role, email: string, name: string) => {
    const id = newId()
    await db.user.create({ data: { id, email, name, role, passwordHash: await hashPassword(PASSWORD) } })
    return id
  }
  return { base, db, env, mail, queue, url: env.publicUrl, person }
}
export type RunningCompany = Awaited<ReturnType<typeof startCompany>>

/** A zone where it is the middle of the day now, so that letters leave at once. */
export function zoneAtNoon(now = new Date()): string {
  const hoursToNoon = 13 - now.getUTCHours()
  // The signs of these zones are turned round: Etc/GMT-3 is three hours ahead.
  const offset = Math.max(-11, Math.min(12, hoursToNoon))
  return offset === 0 ? 'Etc/GMT' : offset > 0 ? `Etc/GMT-${offset}` : `Etc/GMT+${-offset}`
}
