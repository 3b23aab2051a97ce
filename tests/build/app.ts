import type { FastifyInstance, InjectOptions, LightMyRequestResponse } from 'fastify'
import { pino } from 'pino'
import { afterAll, expect } from 'vitest'
import type { Role } from '../../trade/permissions.ts'
import { hashToken } from '../../server/accounts/secrets.ts'
import { buildApp } from '../../server/app.ts'
import { makeBaseCtx } from '../../server/base-ctx.ts'
import { type BaseCtx, type Ctx, systemCtx } from '../../server/ctx.ts'
import { connect } from '../../server/db.ts'
import { readEnv } from '../../server/env.ts'
import { type Changes, listenForChanges } from '../../server/events/changes.ts'
import { newId } from '../../server/ids.ts'
import type { JobName, Jobs } from '../../server/queue.ts'
import { testDatabase } from '../setup/database.ts'
import { documentedAnswers } from './documented.ts'
import { memoryFiles } from './files.ts'
import { KESTREL_ROW } from '../../prisma/seed/company.ts'

export interface TestPerson {
  id: string
  role: Role
  name: string
  /** Sends a request as that person, over a real session. */
  call: (
    method: InjectOptions['method'],
    url: string,
    more?: Omit<InjectOptions, 'method' | 'url'>,
  ) => Promise<LightMyRequestResponse>
}

export interface TestApp {
  app: FastifyInstance
  base: BaseCtx
  changes: Changes
  /** Acting as the system: for builders. */
  ctx: Ctx
  databaseUrl: string
  /** What was rung for, in order. */
  rung: { [Name in JobName]: { name: Name; payload: Jobs[Name] } }[JobName][]
  /** The clock of the whole app. */
  clock: { now: Date; set: (iso: string) => void }
  person: (role: Role, name?: string) => Promise<TestPerson>
  nobody: TestPerson['call']
}

/** The whole server on a database of this file's own, with a clock that stands still. Once per test file, at its top. */
export async function buildTestApp(settings: Record<string, string> = {}): Promise<TestApp> {
  const database = await testDatabase()
  const env = readEnv({
    NODE_ENV: 'test',
    DATABASE_URL: database.url,
    SMTP_URL: 'smtp://127.0.0.1:1',
    MAIL_FROM: 'Kestrel Row Electric <office@example.com>',
    PUBLIC_URL: 'http://localhost:3000',
    SECRET: 'only for tests, only for tests, only for tests',
    LOG_LEVEL: 'silent',
    // A clock that stands still gives nobody a turn.
    MAIL_PER_DOMAIN: '0',
    ...settings,
  })
  const db = connect(database.url, 5)
  const clock = {
    now: new Date('2026-06-01T15:00:00Z'),
    set: (iso: string) => void (clock.now = new Date(iso)),
  }
  const rung: TestApp['rung'] = []
  const base = makeBaseCtx({
    db,
    env,
    files: memoryFiles(),
    log: pino({ level: env.logLevel }),
    now: () => clock.now,
    enqueue: async (name, payload) => void rung.push({ name, payload } as TestApp['rung'][number]),
  })
  const changes = listenForChanges(database.url, base.log)
  const app = await buildApp(base, changes)
  await app.ready()
  await db.company.create({ data: KESTREL_ROW })
  afterAll(async () => {
    await app.close()
    await changes.close()
    await db.$disconnect()
  })

  const faultsOf = documentedAnswers(app)
  const call =
    (cookie?: string): TestPerson['call'] =>
    async (method, url, more = {}) => {
      const response = await app.inject({
        method,
        url,
        ...more,
        headers: {
          origin: 'http://localhost:3000',
          ...(cookie && { cookie: `watchlamp=${cookie}` }),
          ...more.headers,
        },
      } as InjectOptions)
      // Every answer that any test sees is held against the document that the API publishes of itself.
      expect(faultsOf(method ?? 'GET', url, response)).toEqual([])
      return response
    }

  return {
    app,
    base,
    changes,
    ctx: systemCtx(base),
    databaseUrl: database.url,
    rung,
    clock,
    nobody: call(),
    person: async (role, name = `${role} ${newId().slice(-6)}`) => {
      const id = newId()
      await db.user.create({ data: { id, email: `${id}@example.com`, name, role } })
      const token = `session-of-${id}`
      await db.session.create({
        data: {
          id: newId(),
          userId: id,
          tokenHash: hashToken(token),
          userAgent: 'test',
          ip: '127.0.0.1',
          createdAt: clock.now,
          lastSeenAt: clock.now,
          expiresAt: new Date('2100-01-01T00:00:00Z'),
        },
      })
      return { id, role, name, call: call(token) }
    },
  }
}
