import { migrate } from '../prisma/migrate.ts'
import { buildApp } from './app.ts'
import { makeBaseCtx } from './base-ctx.ts'
import { systemCtx } from './ctx.ts'
import { connect } from './db.ts'
import { EnvError, readEnv } from './env.ts'
import { listenForChanges } from './events/changes.ts'
import { diskFiles } from './gateways/files-disk.ts'
import { databaseCheck, migrationsCheck } from './health/checks.ts'
import { healthRoutes } from './health/plugin.ts'
import { createLog } from './log.ts'
import { watchQueue } from './metrics.ts'
import { firstStart } from './people/service.ts'
import { makeJobQueue } from './queue.ts'
import { leaveGracefully } from './shutdown.ts'
import { webFiles } from './web-files.ts'

const env = readSettings()
const log = createLog(env, 'api')
if (env.migrateOnStart) await migrate(env.databaseUrl)

const db = connect(env.databaseUrl)
const queue = makeJobQueue(env, log)
const changes = listenForChanges(env.databaseUrl, log)
watchQueue(queue.counts)
const base = makeBaseCtx({ db, env, log, enqueue: queue.enqueue, files: diskFiles(env.dataDir) })
const app = await buildApp(base, changes)

const { isLeaving } = leaveGracefully(log, {
  'open requests': () => app.close(),
  changes: changes.close,
  queue: queue.close,
  database: () => db.$disconnect(),
})
const query = (sql: string) => db.$queryRawUnsafe<unknown[]>(sql)
await app.register(healthRoutes, {
  isLeaving,
  metricsToken: env.metricsToken,
  checks: {
    database: databaseCheck(query),
    migrations: migrationsCheck(query),
    queue: () => queue.counts().then(() => null),
  },
})
await app.register(webFiles, { dataDir: env.dataDir })

const link = await firstStart(systemCtx(base), 'admin@example.com')
if (link) log.warn(`Nobody can log in yet. Open this link once, and choose the admin's password: ${link}`)
await app.listen({ port: env.port, host: env.host })

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
