import { setTimeout as pause } from 'node:timers/promises'
import { Redis } from 'ioredis'
import { migrate } from '../../prisma/migrate.ts'
import { connect } from '../../server/db.ts'
import { type Sink, startSink } from '../mail-sink/sink.ts'
import { startThrowawayPostgres } from '../services/postgres.ts'
import { startThrowawayRedis } from '../services/redis.ts'
import { chanceOf } from './chance.ts'
import { startCrew } from './crew.ts'
import { addHomes, openCompany } from './homes.ts'
import { judge, type Verdict } from './judge.ts'
import { planStrikes, type Strike } from './strikes.ts'

export interface FaultsOptions {
  kills: number
  /** Dated devices whose reminder is due. */
  due: number
  seed: number
  workers?: number
  say?: (line: string) => void
}

/** How long nothing may happen before it is given up. Longer than a lease and the longest pause in this hurry. */
const PATIENCE_MS = 180_000
/** A strike waits so long for the work to come to its moment: workers that died must come to work again first. */
const STILL_MS = 30_000
/** Things that fall due at a time. */
const WAVE = 500

/**
 * From due dates to letters at the mail server, with workers killed, the queue emptied, the database crashed and the mail
 * server misbehaving at random moments. Homes come in waves, so that planning and telling are struck as well as sending.
 */
export async function runFaults(options: FaultsOptions): Promise<Verdict> {
  const { kills, due, seed, workers = 3, say = () => {} } = options
  const chance = chanceOf(seed)
  // What was committed must outlive a crash of the server; a crash of the machine is not tried.
  const postgres = await startThrowawayPostgres(['synchronous_commit=on', 'full_page_writes=on'])
  const redis = await startThrowawayRedis()
  const sink = await startSink()
  const databaseUrl = postgres.url('postgres')
  await migrate(databaseUrl)
  const db = connect(databaseUrl, 3)
  await openCompany(db)
  const env = {
    NODE_ENV: 'test',
    DATABASE_URL: databaseUrl,
    REDIS_URL: redis?.url ?? '',
    SMTP_URL: sink.url,
    MAIL_FROM: 'Kestrel Row Electric <office@example.com>',
    PUBLIC_URL: 'http://localhost:3000',
    SECRET: 'only for faults, only for faults, only for faults',
    LOG_LEVEL: 'fatal',
  }
  const crew = await startCrew(workers, env, Date.now())
  const flusher = redis && new Redis(redis.url)
  flusher?.on('error', () => {})

  const share = Math.ceil(due / Math.max(2, Math.ceil(due / WAVE)))
  let added = 0
  let homes = 0
  /** Adds the next homes when most letters to the ones before have gone. */
  async function keepComing(): Promise<void> {
    if (added >= due || sink.taken.length < homes * 0.7) return
    const count = Math.min(share, due - added)
    await eventually(() => addHomes(db, homes + 1, count))
    added += count
    homes += Math.ceil((count * 2) / 3)
  }
  const letters = Math.ceil((due * 2) / 3)

  async function strike({ what }: Strike): Promise<void> {
    if (what === 'worker') crew.kill(chance)
    else if (what === 'queue') await flusher?.flushall().catch(() => {})
    else if (what === 'database') await crashDatabase(databaseUrl)
    else await misbehave(sink, what)
  }

  try {
    let struck = 0
    for (const each of planStrikes(kills, letters, chance)) {
      for (let since = Date.now(); sink.taken.length < each.at && Date.now() - since < STILL_MS;) {
        await keepComing()
        await pause(10)
      }
      await pause(chance() * 20)
      await strike(each)
      if (++struck % 50 === 0)
        say(`${struck} strikes, ${sink.taken.length} letters, ${crew.deaths()} other deaths`)
    }
    // What was hit again and again waits for hours by then: they pass at once.
    let arePausesOver = false
    let last = { taken: -1, at: Date.now() }
    while (!(added >= due && (await isAllSent(db, due)))) {
      await keepComing()
      if (added >= due && !arePausesOver) {
        await eventually(
          () => db.$executeRaw`UPDATE message SET send_after = created_at WHERE state = 'planned'`,
        )
        arePausesOver = true
      }
      if (sink.taken.length > last.taken) last = { taken: sink.taken.length, at: Date.now() }
      if (Date.now() - last.at > PATIENCE_MS) break
      await pause(200)
    }
    say(`${sink.taken.length} letters, ${crew.deaths()} other deaths`)
    return await judge(db, sink.taken, say)
  } finally {
    await crew.stop()
    flusher?.disconnect()
    await db.$disconnect()
    await Promise.all([sink.stop(), postgres.stop(), redis?.stop()])
  }
}

/** Every device has its follow-up, and every message has gone. */
async function isAllSent(db: ReturnType<typeof connect>, due: number): Promise<boolean> {
  const [row] = await eventually(
    () => db.$queryRaw<[{ told: number; waiting: number }]>`
      SELECT (SELECT count(DISTINCT follow_up_id)::int FROM message_follow_up) AS told,
             (SELECT count(*)::int FROM message WHERE state IN ('planned', 'sending')) AS waiting`,
  )
  return row.told >= due && row.waiting === 0
}

/** One of its processes dies hard: the server ends every other and recovers, as after a crash. */
async function crashDatabase(url: string): Promise<void> {
  const db = connect(url, 1)
  try {
    const [row] = await eventually(() => db.$queryRaw<[{ pid: number }]>`SELECT pg_backend_pid() AS pid`)
    process.kill(row.pid, 'SIGKILL')
  } finally {
    await db.$disconnect()
  }
}

/** The next conversation that comes to that stage goes wrong. */
async function misbehave(sink: Sink, what: Exclude<Strike['what'], string>): Promise<void> {
  let isDone = false
  sink.mischief = (stage) => {
    if (isDone || stage !== what.stage) return null
    isDone = true
    return what.mischief
  }
  for (let waited = 0; !isDone && waited < 5_000; waited += 10) await pause(10)
}

async function eventually<Result>(ask: () => Promise<Result>): Promise<Result> {
  for (let tries = 0; ; tries++) {
    try {
      return await ask()
    } catch (error) {
      if (tries > 100) throw error
      await pause(200)
    }
  }
}
