import { existsSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { pino } from 'pino'
import { seedDemo } from '../../prisma/seed/main.ts'
import { makeBaseCtx } from '../../server/base-ctx.ts'
import { connect } from '../../server/db.ts'
import { readEnv } from '../../server/env.ts'
import { diskFiles } from '../../server/gateways/files-disk.ts'
import { dayInZone } from '../../server/time.ts'
import type { DemoDatabase } from './database.ts'
import { DATA } from './folder.ts'
import { says } from './words.ts'

/** There while the company is being loaded: left behind, the loading was cut short. */
const marker = join(DATA, 'seeding')
/** Port Ansel's, whose day it is that the demo begins on. */
const ZONE = 'America/New_York'

/** Loads the demo company into a database that has no company yet.
 *  @throws one sentence when a database of somebody else's was left half filled */
export async function loadCompany(
  database: DemoDatabase,
  settings: Record<string, string | undefined>,
): Promise<void> {
  if (!database.isOurs && existsSync(marker)) {
    throw new Error(
      'The last start was cut short while it filled the database of DATABASE_URL: empty it, remove .data/seeding, start again.',
    )
  }
  const db = connect(database.url, 4)
  try {
    if (await db.company.findFirst({ select: { id: true } })) return
    const began = performance.now()
    says('Loading the demo company')
    writeFileSync(marker, '')
    const env = readEnv(settings)
    const base = makeBaseCtx({
      db,
      env,
      log: pino({ level: 'silent' }),
      files: diskFiles(env.dataDir),
      // What is to be done is found by the worker when it starts.
      enqueue: async () => {},
    })
    await seedDemo(base, { today: dayInZone(base.now(), ZONE) })
    rmSync(marker, { force: true })
    says(`Loaded it in ${((performance.now() - began) / 1000).toFixed(1)} s`)
  } finally {
    await db.$disconnect()
  }
}
