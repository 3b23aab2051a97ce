import { Redis } from 'ioredis'
import { afterAll, afterEach, beforeEach, describe, expect, test } from 'vitest'
import { day } from '../../trade/dates.ts'
import { memoryMailer } from '../../server/gateways/mail-memory.ts'
import { smtpMailer } from '../../server/gateways/mail-smtp.ts'
import { newId } from '../../server/ids.ts'
import { relayMessages } from '../../server/messages/relay.ts'
import { type JobName, makeJobQueue, makeWorker } from '../../server/queue.ts'
import { makeHandlers } from '../../worker/handlers.ts'
import { keepSchedules, schedules } from '../../worker/schedule.ts'
import { startMailCatcher } from '../../scripts/mail-catcher/catcher.ts'
import { buildTestApp } from '../build/app.ts'
import { buildAlarm, buildHousehold } from '../build/follow-up.ts'
import { buildConfirmation } from '../build/message.ts'
import { testRedis } from '../setup/redis.ts'

const redisUrl = await testRedis()
const { ctx, clock, databaseUrl } = await buildTestApp()
const { db } = ctx
const mailer = memoryMailer()
const quiet = { info: () => {}, warn: () => {}, error: () => {} } as never
const catcher = await startMailCatcher()
afterAll(() => catcher.stop())

beforeEach(() => {
  clock.set('2026-06-01T15:00:00Z')
  mailer.letters = []
})

const closing: (() => unknown)[] = []
afterEach(async () => {
  for (const close of closing.splice(0).reverse()) await close()
})

describe('each handler called twice does its work once', () => {
  const rung: string[] = []
  const queue = {
    enqueueMany: async (name: JobName, payloads: readonly unknown[]) => {
      rung.push(...payloads.map((payload) => `${name} ${Object.values(payload as object).join()}`))
      return payloads.length
    },
  }
  const handlers = makeHandlers({ ctx, mailer, queue })
  const twice = async (name: JobName, payload: unknown) => {
    await handlers[name](payload)
    await handlers[name](payload)
  }

  test('send-message', async () => {
    const { messageId } = await buildConfirmation(ctx)
    await twice('send-message', { messageId, since: 'a later release' })
    expect(mailer.letters).toHaveLength(1)
  })

  test('plan-follow-ups, for one home and for all', async () => {
    const home = await buildHousehold(ctx)
    await buildAlarm(ctx, home, day('2026-06-20'))
    await twice('plan-follow-ups', { propertyId: home.propertyId })
    await twice('plan-follow-ups', {})
    expect(await db.followUp.count({ where: { propertyId: home.propertyId } })).toBe(1)
  })

  test('notify-household', async () => {
    const home = await buildHousehold(ctx)
    await buildAlarm(ctx, home, day('2026-06-20'))
    await handlers['plan-follow-ups']({ propertyId: home.propertyId })
    rung.length = 0
    await twice('notify-household', { propertyId: home.propertyId })
    expect(await db.message.count({ where: { customerId: home.customerId } })).toBe(1)
    expect(rung).toHaveLength(1)
  })

  test('relay-messages rings for what waits, and for what a dead worker left', async () => {
    await db.message.updateMany({ where: { state: 'planned' }, data: { state: 'cancelled' } })
    const waiting = await buildConfirmation(ctx)
    const left = await buildConfirmation(ctx)
    const held = await buildConfirmation(ctx)
    const later = await buildConfirmation(ctx)
    const at = (minutes: number) => new Date(clock.now.getTime() + minutes * 60_000)
    await db.message.update({ where: { id: left.messageId }, data: { state: 'sending', leaseUntil: at(-1) } })
    await db.message.update({ where: { id: held.messageId }, data: { state: 'sending', leaseUntil: at(3) } })
    await db.message.update({ where: { id: later.messageId }, data: { sendAfter: at(60) } })
    rung.length = 0
    await handlers['relay-messages']({})
    expect(rung).toEqual(['send-waiting 0'])
    await twice('send-waiting', { part: 0 })
    const states = await Promise.all(
      [waiting, left, held, later].map(async ({ messageId }) => {
        const { state } = await db.message.findUniqueOrThrow({ where: { id: messageId } })
        return state
      }),
    )
    expect(states).toEqual(['sent', 'sent', 'sending', 'planned'])
    expect(mailer.letters).toHaveLength(2)
    await handlers['relay-messages']({})
    expect(rung).toHaveLength(1)
  })

  test('before the company is set up each finds nothing to do, and says nothing', async () => {
    const company = await db.company.findUniqueOrThrow({ where: { id: 1 } })
    await db.company.delete({ where: { id: 1 } })
    try {
      for (const name of ['plan-follow-ups', 'notify-household', 'relay-messages', 'clean-up'] as const)
        await twice(name, {})
    } finally {
      await db.company.create({ data: company as never })
    }
  })

  test('clean-up removes what is stale and nothing else', async () => {
    const userId = newId()
    const key = (createdAt: string) => ({
      key: newId(),
      userId,
      route: '-',
      requestHash: new Uint8Array(1),
      status: 200,
      createdAt,
    })
    await db.idempotencyKey.createMany({ data: [key('2026-03-01T00:00:00Z'), key('2026-05-01T00:00:00Z')] })
    await twice('clean-up', {})
    expect(await db.idempotencyKey.count({ where: { userId } })).toBe(1)
  })

  test.each(['send-message', 'plan-follow-ups', 'notify-household'] as const)(
    '%s refuses a payload that it cannot read',
    async (name) => {
      await expect(handlers[name]({ messageId: 'x', propertyId: 'x' })).rejects.toThrow()
    },
  )
})

test('a queue that is away: the sweep ends, and what waits is still counted', async () => {
  await db.message.updateMany({ where: { state: 'planned' }, data: { state: 'cancelled' } })
  await buildConfirmation(ctx)
  expect(await relayMessages(ctx, { enqueueMany: async () => 0 })).toBe(1)
})

describe.each([
  ['Redis', { databaseUrl, redisUrl: redisUrl as string | undefined }],
  ['PostgreSQL', { databaseUrl, redisUrl: undefined }],
])('the four steps through the queue on %s', (store, env) => {
  async function start() {
    const smtp = smtpMailer({ ...ctx.env, smtpUrl: catcher.smtpUrl })
    const queue = makeJobQueue(env, quiet)
    const acting = { ...ctx, enqueue: queue.enqueue }
    const worker = makeWorker(env, quiet, makeHandlers({ ctx: acting, mailer: smtp, queue }), 4)
    closing.push(() => smtp.close(), queue.close, worker.close)
    worker.run()
    await worker.ready()
    return queue
  }
  const received = async () =>
    (await catcher.mailbox.list()).map(({ subject, envelope }) => `${envelope.to.join()}: ${subject}`)

  test('from a date in the home to a mail at the mail server', async () => {
    const home = await buildHousehold(ctx, { email: `six-${newId()}@example.com` })
    for (let n = 0; n < 6; n++) await buildAlarm(ctx, home, day('2026-06-20'), `Alarm ${n}`)
    const { email } = await db.customer.findUniqueOrThrow({ where: { id: home.customerId } })
    const queue = await start()
    await queue.enqueue('plan-follow-ups', {})
    const wanted = expect.stringMatching(`^${email}: 6 things are due at \\d+ Quay Lane$`) as unknown
    await expect.poll(received, { timeout: 15_000 }).toContainEqual(wanted)
    await queue.enqueue('plan-follow-ups', {})
    await expect.poll(async () => (await queue.counts())['active'], { timeout: 15_000 }).toBe(0)
    expect((await received()).filter((line) => line.startsWith(`${email}:`))).toHaveLength(1)
  })

  test('a queue that lost everything: the schedules come back, and what was waiting goes out', async () => {
    const { messageId, customerId } = await buildConfirmation(ctx)
    const { email } = await db.customer.findUniqueOrThrow({ where: { id: customerId } })
    const queue = makeJobQueue(env, quiet)
    closing.push(queue.close)
    await queue.enqueue('send-message', { messageId })
    if (store === 'Redis') {
      const redis = new Redis(redisUrl)
      await redis.flushdb()
      await redis.quit()
    } else {
      await db.$executeRawUnsafe('DROP SCHEMA IF EXISTS bullmq CASCADE')
      const again = makeJobQueue(env, quiet)
      closing.push(again.close)
      await again.counts()
    }
    const working = await start()
    closing.push(keepSchedules(working, { 'relay-messages': { every: 500 } }, quiet, 200))
    await expect
      .poll(received, { timeout: 15_000 })
      .toContain(`${email}: Your inspection on Thursday, June 4, 2026`)
    expect(await working.isScheduled('relay-messages')).toBe(true)
    expect(await working.isScheduled('clean-up')).toBe(false)
  })
})

test('what runs by the clock: the sweep each minute, notices each quarter, the plan in the company’s night', () => {
  expect(schedules('America/Chicago')).toEqual({
    'relay-messages': { every: 60_000 },
    'notify-household': { every: 900_000 },
    'plan-follow-ups': { pattern: '15 1 * * *', tz: 'America/Chicago' },
    'read-bounces': { every: 300_000 },
    'clean-up': { pattern: '45 3 * * *', tz: 'America/Chicago' },
  })
})

test('a queue that is away at the start is asked again until it is there', async () => {
  const asked: string[] = []
  let isAway = true
  const queue = {
    schedule: async (name: string) => {
      if (isAway) throw new Error('away')
      asked.push(name)
    },
    isScheduled: async () => true,
  }
  closing.push(keepSchedules(queue, schedules('UTC'), quiet, 20))
  await expect.poll(() => asked.length).toBe(0)
  isAway = false
  await expect
    .poll(() => asked.sort())
    .toEqual(['clean-up', 'notify-household', 'plan-follow-ups', 'read-bounces', 'relay-messages'])
})
