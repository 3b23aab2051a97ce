import Fastify from 'fastify'
import { makeBaseCtx } from '../server/base-ctx.ts'
import { systemCtx } from '../server/ctx.ts'
import { connect } from '../server/db.ts'
import { EnvError, readEnv } from '../server/env.ts'
import { Problem } from '../server/errors.ts'
import { diskFiles } from '../server/gateways/files-disk.ts'
import { smtpMailer } from '../server/gateways/mail-smtp.ts'
import { databaseCheck, migrationsCheck } from '../server/health/checks.ts'
import { healthRoutes } from '../server/health/plugin.ts'
import { createLog } from '../server/log.ts'
import { watchQueue } from '../server/metrics.ts'
import { makeJobQueue, makeWorker } from '../server/queue.ts'
import { readCompany } from '../server/settings/service.ts'
import { leaveGracefully } from '../server/shutdown.ts'
import { makeHandlers } from './handlers.ts'
import { keepSchedules, schedules } from './schedule.ts'

/** Jobs in hand at once. Most of the time of each is spent waiting for the mail server. */
const CONCURRENCY = 10

const env = readSettings()
const log = createLog(env, 'worker')
const db = connect(env.databaseUrl, CONCURRENCY)
const queue = makeJobQueue(env, log)
const mailer = smtpMailer(env)
const base = makeBaseCtx({ db, env, log, enqueue: queue.enqueue, files: diskFiles(env.dataDir) })
const ctx = systemCtx(base)
const worker = makeWorker(env, log, makeHandlers({ ctx, mailer, queue }), CONCURRENCY)
const health = Fastify({ loggerInstance: log, disableRequestLogging: true })
watchQueue(queue.counts)

// Before the first start of the office there is no company, and no night of its own.
const zone = await readCompany(ctx).then(
  (company) => company.timeZone,
  () => 'UTC',
)
const stopSchedules = keepSchedules(queue, schedules(zone), log)
const { isLeaving } = leaveGracefully(log, {
  schedules: async () => stopSchedules(),
  'jobs in hand': worker.close,
  health: () => health.close(),
  queue: queue.close,
  mail: async () => mailer.close(),
  database: () => db.$disconnect(),
})

const query = (sql: string) => db.$queryRawUnsafe<unknown[]>(sql)
await health.register(healthRoutes, {
  isLeaving,
  metricsToken: env.metricsToken,
  checks: {
    database: databaseCheck(query),
    migrations: migrationsCheck(query),
    queue: () => queue.counts().then(() => null),
  },
})
health.setErrorHandler((error, _request, reply) =>
  reply.status(error instanceof Problem ? error.status : 500).send({ detail: (error as Error).message }),
)
if (env.workerPort !== undefined) await health.listen({ port: env.workerPort, host: env.host })
worker.run()
// What fell due while nobody was at work.
await queue.enqueue('plan-follow-ups', {})
log.info('at work')

function readSettings() {
  try {
    return readEnv()
  } catch (error) {
    if (!(error instanceof EnvError)) throw error
    // eslint-disable-next-line no-console -- before there is a log
    console.error(error.message)
    process.exit(1)
  }
}
