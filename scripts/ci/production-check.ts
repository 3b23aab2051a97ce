import { type ChildProcess, spawn } from 'node:child_process'
import { randomBytes } from 'node:crypto'
import { once } from 'node:events'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { startMailCatcher } from '../mail-catcher/catcher.ts'
import { freePort } from '../services/ports.ts'
import { startThrowawayPostgres } from '../services/postgres.ts'
import { startThrowawayRedis } from '../services/redis.ts'

// Runs dist/ as the compose file does: migrate, then API and worker on PostgreSQL and Redis with the settings of a real
// installation, until both are healthy; asks a page and the API's document; SIGTERM must end both with 0.

const PATIENCE_MS = 120_000

const folder = mkdtempSync(join(tmpdir(), 'watchlamp-production-'))
const [postgres, redis, mail] = [
  await startThrowawayPostgres(),
  await startThrowawayRedis(),
  await startMailCatcher(),
]
if (!redis) throw new Error('this check needs redis-server: apt-get install redis-server')
const [port, workerPort] = [await freePort(), await freePort()]
const address = `http://127.0.0.1:${port}`
const env = {
  PATH: process.env.PATH,
  NODE_ENV: 'production',
  DATABASE_URL: postgres.url('postgres'),
  REDIS_URL: redis.url,
  SMTP_URL: mail.smtpUrl,
  MAIL_FROM: 'Kestrel Row Electric <office@example.com>',
  PUBLIC_URL: address,
  SECRET: randomBytes(32).toString('hex'),
  PORT: String(port),
  WORKER_PORT: String(workerPort),
  DATA_DIR: folder,
  LOG_LEVEL: 'warn',
}
const started: ChildProcess[] = []

try {
  await expectEnd(run('scripts/migrate.js'), 'migrate')
  const [api, worker] = [run('server/main.js'), run('worker/main.js')]
  await Promise.all([untilHealthy('api'), untilHealthy('worker')])
  for (const path of ['/', '/api/openapi.json', '/api/docs']) {
    const answer = await fetch(`${address}${path}`)
    if (!answer.ok) throw new Error(`${path} answered ${answer.status}`)
  }
  api.kill('SIGTERM')
  worker.kill('SIGTERM')
  await Promise.all([expectEnd(api, 'the API'), expectEnd(worker, 'the worker')])
  console.log('What is built runs, is healthy, answers and leaves in order.')
} catch (error) {
  console.error((error as Error).message)
  process.exitCode = 1
} finally {
  for (const child of started) child.kill('SIGKILL')
  await Promise.all([postgres.stop(), redis.stop(), mail.stop()])
  rmSync(folder, { recursive: true, force: true })
}

function run(file: string, ...args: string[]): ChildProcess {
  const child = spawn(process.execPath, [join('dist', file), ...args], {
    env,
    stdio: ['ignore', 'inherit', 'inherit'],
  })
  started.push(child)
  return child
}

async function expectEnd(child: ChildProcess, what: string): Promise<void> {
  const code = child.exitCode ?? ((await once(child, 'exit')) as [number | null])[0]
  if (code !== 0) throw new Error(`${what} ended with ${code}`)
}

/** By the same program that the containers' health checks run. */
async function untilHealthy(part: 'api' | 'worker'): Promise<void> {
  for (
    const end = Date.now() + PATIENCE_MS;
    Date.now() < end;
    await new Promise((wait) => setTimeout(wait, 500))
  ) {
    const [code] = (await once(
      spawn(process.execPath, ['dist/scripts/health-check.js', part], { env }),
      'exit',
    )) as [number]
    if (code === 0) return
  }
  throw new Error(`the ${part} was not healthy within ${PATIENCE_MS / 1000} s`)
}
