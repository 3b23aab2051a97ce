import { fork } from 'node:child_process'
import { once } from 'node:events'
import { fileURLToPath } from 'node:url'
import { createTransport } from 'nodemailer'
import { pino } from 'pino'
import { migrate } from '../../prisma/migrate.ts'
import type * as baseCtx from '../../server/base-ctx.ts'
import type * as ctxs from '../../server/ctx.ts'
import type { Ctx } from '../../server/ctx.ts'
import type * as databases from '../../server/db.ts'
import { readEnv } from '../../server/env.ts'
import type { Letter } from '../../server/gateways/mail.ts'
import type * as memory from '../../server/gateways/mail-memory.ts'
import type * as smtp from '../../server/gateways/mail-smtp.ts'
import type * as relay from '../../server/messages/relay.ts'
import type * as sendings from '../../server/messages/sending.ts'
import type * as queues from '../../server/queue.ts'
import type { JobQueue } from '../../server/queue.ts'
import type * as handlers from '../../worker/handlers.ts'
import { compile } from '../compiled.ts'
import { startThrowawayPostgres } from '../services/postgres.ts'
import { startThrowawayRedis } from '../services/redis.ts'
import type { Measurement } from './run.ts'
import { KESTREL_ROW } from '../../prisma/seed/company.ts'

const LETTERS = 3000
const ROUNDS = 3
const CONNECTIONS = 10
const NOON = new Date('2026-06-01T16:00:00Z')
/** Asked for and kept, and never reached here. */
const PER_DOMAIN = '1000000'

const compiled = compile(['trade', 'server', 'worker', 'prisma/generated'])
const load = <Module>(module: string) => import(compiled(module)) as Promise<Module>
const { makeBaseCtx } = await load<typeof baseCtx>('server/base-ctx.js')
const { systemCtx } = await load<typeof ctxs>('server/ctx.js')
const { connect } = await load<typeof databases>('server/db.js')
const { memoryMailer } = await load<typeof memory>('server/gateways/mail-memory.js')
const { mailOptions, smtpMailer } = await load<typeof smtp>('server/gateways/mail-smtp.js')
const { relayMessages } = await load<typeof relay>('server/messages/relay.js')
const { sendMessages } = await load<typeof sendings>('server/messages/sending.js')
const { makeJobQueue, makeWorker } = await load<typeof queues>('server/queue.js')
const { makeHandlers } = await load<typeof handlers>('worker/handlers.js')

/**
 * `messages.send`: messages a second from the waiting row to the row marked as sent, through the queue, the worker and
 * SMTP; against the mail library alone, which sends the same letters, already written, to the same sink over as many
 * connections. In turns, as one processor time-shares them.
 */
export async function run(): Promise<Measurement[]> {
  const [postgres, redis, sink] = [
    await startThrowawayPostgres(),
    await startThrowawayRedis(),
    await startSinkProcess(),
  ]
  const env = readEnv({
    NODE_ENV: 'test',
    DATABASE_URL: postgres.url('postgres'),
    REDIS_URL: redis?.url,
    SMTP_URL: sink.url,
    MAIL_FROM: 'Kestrel Row Electric <office@example.com>',
    PUBLIC_URL: 'http://localhost:3000',
    SECRET: 'only for the bench, only for the bench',
    MAIL_PER_DOMAIN: PER_DOMAIN,
    LOG_LEVEL: 'silent',
  })
  await migrate(env.databaseUrl)
  const db = connect(env.databaseUrl, 10)
  const log = pino({ level: 'silent' })
  const queue = makeJobQueue(env, log)
  const files = { put: async () => '', get: async () => null }
  const ctx = systemCtx(makeBaseCtx({ db, env, log, files, now: () => NOON, enqueue: queue.enqueue }))
  const mailer = smtpMailer(env, CONNECTIONS)
  const worker = makeWorker(env, log, makeHandlers({ ctx, mailer, queue }), 4)
  await worker.ready()
  worker.run()
  try {
    const letters = await fill(ctx)
    const rounds: { ours: number; bare: number }[] = []
    await sendOurs(ctx, queue)
    await sendBare(env.smtpUrl, letters)
    for (let round = 0; round < ROUNDS; round++)
      rounds.push({ ours: await sendOurs(ctx, queue), bare: await sendBare(env.smtpUrl, letters) })
    const expected = 2 * (ROUNDS + 1) * LETTERS
    const taken = await sink.taken()
    if (taken !== expected) throw new Error(`${taken} letters arrived, not ${expected}`)
    const middle = rounds.toSorted((a, b) => a.ours / a.bare - b.ours / b.bare)[Math.floor(ROUNDS / 2)]!
    const ratio = Math.round((middle.ours / middle.bare) * 100) / 100
    const [ours, bare] = [Math.round(middle.ours), Math.round(middle.bare)]
    return [{ name: 'messages.send', ours, bare, ratio, aim: 0.6, unit: 'messages/s' }]
  } finally {
    await worker.close()
    await queue.close()
    mailer.close()
    await db.$disconnect()
    await Promise.all([postgres.stop(), redis?.stop()])
    sink.stop()
  }
}

async function startSinkProcess() {
  const child = fork(fileURLToPath(new URL('../mail-sink/main.ts', import.meta.url)), {
    execArgv: ['--import', 'tsx'],
  })
  const [{ url }] = (await once(child, 'message')) as [{ url: string }]
  return {
    url,
    taken: async () => {
      child.send('taken')
      const [{ taken }] = (await once(child, 'message')) as [{ taken: number }]
      return taken
    },
    stop: () => child.disconnect(),
  }
}

/** Households with one to three things due each, and a message waiting for each household.
 *  @returns the letters, as the mailer would be handed them */
async function fill(ctx: Ctx): Promise<Letter[]> {
  const run = (sql: string) => ctx.db.$executeRawUnsafe(sql)
  await ctx.db.company.create({ data: KESTREL_ROW })
  await run(`INSERT INTO customer (id, kind, name, email, phone, language, address_lines)
    SELECT gen_random_uuid(), 'person', 'Customer ' || n, 'c' || n || '@d' || n % 50 || '.example.com', '555-0142',
      CASE WHEN n % 4 = 0 THEN 'es' ELSE 'en' END, '{}' FROM generate_series(1, ${LETTERS}) n`)
  await run(`INSERT INTO property (id, line1, city, region, postcode, time_zone, fuels)
    SELECT gen_random_uuid(), n || ' Quay Lane', 'Port Ansel', 'ME', '04100', 'America/New_York', '{electric}'
    FROM generate_series(1, ${LETTERS}) n`)
  await run(`INSERT INTO property_party (property_id, customer_id, role, is_contact)
    SELECT p.id, c.id, 'owner', true FROM (SELECT id, row_number() OVER (ORDER BY id) n FROM property) p
    JOIN (SELECT id, row_number() OVER (ORDER BY id) n FROM customer) c USING (n)`)
  await run(`INSERT INTO equipment (id, property_id, kind, label, details, replace_by)
    SELECT gen_random_uuid(), id, 'alarm', 'Alarm ' || n, '{"senses": "smoke"}', date '2026-06-20' + n
    FROM (SELECT id, row_number() OVER (ORDER BY id) AS r FROM property) p CROSS JOIN generate_series(1, 3) n WHERE n <= 1 + r % 3`)
  await run(`INSERT INTO follow_up (id, property_id, kind, subject_kind, subject_id, equipment_id, due_on, reason, state)
    SELECT gen_random_uuid(), property_id, 'alarm-end-of-life', 'equipment', id, id, replace_by, 'age', 'told' FROM equipment`)
  await run(`INSERT INTO message (id, kind, category, customer_id, property_id, to_address, to_name, language, dedupe_key,
      message_id_header, reason, send_after)
    SELECT gen_random_uuid(), 'due-reminder', 'reminder', c.id, x.property_id, c.email, c.name, c.language, c.id, '<' || c.id || '@example.com>',
      'What is due', timestamptz '${NOON.toISOString()}' FROM customer c JOIN property_party x ON x.customer_id = c.id`)
  await run(`INSERT INTO message_follow_up (message_id, follow_up_id, step)
    SELECT m.id, f.id, '-30' FROM message m JOIN follow_up f ON f.property_id = m.property_id`)
  await run('VACUUM ANALYZE')
  const memory = memoryMailer()
  await sendMessages(ctx, memory, { most: LETTERS })
  if (memory.letters.length !== LETTERS) throw new Error(`only ${memory.letters.length} letters were written`)
  return memory.letters
}

async function sendOurs(ctx: Ctx, queue: JobQueue): Promise<number> {
  await ctx.db
    .$executeRawUnsafe(`UPDATE message SET state = 'planned', sent_at = NULL, attempts = 0, subject = NULL,
    text_body = NULL, html_body = NULL, send_after = '${NOON.toISOString()}'`)
  await ctx.db.$executeRawUnsafe('VACUUM ANALYZE message')
  const began = performance.now()
  await relayMessages(ctx, queue)
  while ((await ctx.db.message.count({ where: { state: { in: ['planned', 'sending'] } } })) > 0)
    await new Promise((resolve) => setTimeout(resolve, 50))
  const rate = LETTERS / ((performance.now() - began) / 1000)
  const sent = await ctx.db.message.count({ where: { state: 'sent' } })
  if (sent !== LETTERS) throw new Error(`${sent} of ${LETTERS} messages were sent`)
  return rate
}

async function sendBare(url: string, letters: readonly Letter[]): Promise<number> {
  const transport = createTransport({ url, pool: true, maxConnections: CONNECTIONS, maxMessages: 200 })
  const began = performance.now()
  await Promise.all(letters.map((letter) => transport.sendMail(mailOptions(letter))))
  const rate = letters.length / ((performance.now() - began) / 1000)
  transport.close()
  return rate
}
