import { pino } from 'pino'
import { makeBaseCtx } from '../../server/base-ctx.ts'
import { systemCtx } from '../../server/ctx.ts'
import { connect } from '../../server/db.ts'
import { readEnv } from '../../server/env.ts'
import { smtpMailer } from '../../server/gateways/mail-smtp.ts'
import { makeJobQueue, makeWorker } from '../../server/queue.ts'
import { makeHandlers } from '../../worker/handlers.ts'
import { keepSchedules } from '../../worker/schedule.ts'
import { hurriedClock, LETTER_MS } from './clock.ts'

// A worker as worker/main.ts makes it, on a clock that runs fast: leases, pauses and sweeps come round in seconds. It is
// meant to be killed.
const env = readEnv()
const log = pino({ level: env.logLevel }, pino.destination(2))
const db = connect(env.databaseUrl, 5)
const queue = makeJobQueue(env, log)
const mailer = smtpMailer(env, 5, LETTER_MS)
const files = { put: async () => '', get: async () => null }
const base = makeBaseCtx({ db, env, log, files, enqueue: queue.enqueue, now: hurriedClock(process.argv[2]!) })
const worker = makeWorker(env, log, makeHandlers({ ctx: systemCtx(base), mailer, queue }), 2)
const wanted = {
  'relay-messages': { every: 500 },
  'notify-household': { every: 2000 },
  'plan-follow-ups': { every: 3000 },
}
keepSchedules(queue, wanted, log, 500)
await worker.ready()
worker.run()
process.send?.('ready')
process.on('disconnect', () => process.exit())
// It went while we were starting.
if (!process.connected) process.exit()
