import { rmSync } from 'node:fs'
import { join } from 'node:path'
import { parseArgs } from 'node:util'
import { migrate } from '../../prisma/migrate.ts'
import { buildWebWhenStale } from '../build-web.ts'
import { startMailCatcher } from '../mail-catcher/catcher.ts'
import { portFrom } from '../services/ports.ts'
import { demoDatabase } from './database.ts'
import { loadCompany } from './company.ts'
import { DATA, onlyOne, ROOT, secretNamed } from './folder.ts'
import { type PartEnv, startPart } from './parts.ts'
import { says, summary } from './words.ts'

// The demo: PostgreSQL, the mail catcher, the API and the worker, as long as this program runs. What the environment
// brings (DATABASE_URL, REDIS_URL, SMTP_URL, PORT, HOST) is used instead of our own.

const { values: options } = parseArgs({ options: { fresh: { type: 'boolean', default: false } } })
const given = process.env
const ending: { what: string; stop: () => Promise<unknown> }[] = []
let leaving = false

process.chdir(ROOT)
for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.on(signal, () => void leave(0))
leaveWithNpm()
try {
  await start()
} catch (error) {
  if (!leaving) {
    process.stderr.write(`\n${(error as Error).message}\n`)
    await leave(1)
  }
}

async function start(): Promise<void> {
  onlyOne()
  if (options.fresh) {
    if (given.DATABASE_URL)
      throw new Error('--fresh empties only the demo’s own database; empty yours yourself.')
    says('Beginning anew')
    for (const folder of ['mail', 'files']) rmSync(join(DATA, folder), { recursive: true, force: true })
  }
  says(given.DATABASE_URL ? 'Using the database of DATABASE_URL' : 'Starting PostgreSQL')
  const database = await demoDatabase(given.DATABASE_URL, options.fresh)
  ending.unshift({ what: 'PostgreSQL', stop: database.stop })
  await migrate(database.url, { onApplied: (name) => says(`Migrating: ${name}`) })

  const freePort = (wanted: number, what: string) =>
    portFrom(wanted, (port) => says(`Port ${port} is taken: trying the next one for ${what}`))
  const mail = given.SMTP_URL
    ? null
    : await startMailCatcher({ folder: join(DATA, 'mail'), webPort: await freePort(8025, 'the mail page') })
  if (mail) ending.unshift({ what: 'the mail catcher', stop: mail.stop })

  if (await buildWebWhenStale()) says('Built the pages')
  const port = await freePort(Number(given.PORT) || 3000, 'the API')
  const host = given.HOST || '127.0.0.1'
  const publicUrl = given.PUBLIC_URL || `http://localhost:${port}`
  const env = {
    NODE_ENV: 'development',
    WATCHLAMP_DEMO: 'true',
    DATABASE_URL: database.url,
    REDIS_URL: given.REDIS_URL,
    SMTP_URL: given.SMTP_URL || mail!.smtpUrl,
    MAIL_FROM: given.MAIL_FROM || 'Kestrel Row Electric <office@example.com>',
    PUBLIC_URL: publicUrl,
    SECRET: secretNamed('secret'),
    DATA_DIR: join(DATA, 'files'),
    HOST: host,
    PORT: String(port),
    WORKER_PORT: String(await freePort(port + 1, 'the worker')),
  }
  await loadCompany(database, env)
  says('Starting the API and the worker')
  await Promise.all((['api', 'worker'] as const).map((part) => startAndWatch(part, env)))
  process.stdout.write(summary({ publicUrl, mailUrl: mail?.webUrl ?? null }))
}

async function startAndWatch(part: 'api' | 'worker', env: PartEnv): Promise<void> {
  const running = await startPart(part, env)
  ending.unshift({ what: `the ${part}`, stop: running.stop })
  void running.ended.then(() => {
    if (leaving) return
    process.stderr.write(`\nThe ${part} has ended; its last words are in .data/logs/${part}.log.\n`)
    void leave(1)
  })
}

/** npm passes no signal on but the terminal's: when it was ended in another way, nobody is left to stop us. */
function leaveWithNpm(): void {
  const npm = process.ppid
  if (given.npm_lifecycle_event !== 'demo') return
  setInterval(() => process.ppid !== npm && void leave(0), 1000).unref()
}

/** Stops what was started, the latest first. A second signal does not wait. */
async function leave(code: number): Promise<void> {
  if (leaving && ending.length > 0) process.exit(1)
  leaving = true
  if (ending.length > 0) says('Stopping')
  for (const { what, stop } of ending) {
    await stop().catch((error: Error) => process.stderr.write(`While stopping ${what}: ${error.message}\n`))
  }
  if (code === 0) says('Stopped. The next start finds everything again.')
  process.exit(code)
}
