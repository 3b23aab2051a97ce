import { expect, test } from 'vitest'
import { addDays, addYears, day } from '../../trade/dates.ts'
import { DEFAULT_POLICY } from '../../trade/follow-ups/policy.ts'
import { noticeKey } from '../../trade/follow-ups/steps.ts'
import { COMPANY_ZONE } from '../../server/follow-ups/simulation/company.ts'
import { type Act, simulate } from '../../server/follow-ups/simulation/simulate.ts'
import type { Told } from '../../server/follow-ups/simulation/tell-person.ts'
import { planFollowUps } from '../../server/follow-ups/service.ts'
import { memoryMailer } from '../../server/gateways/mail-memory.ts'
import { instantAt } from '../../server/time.ts'
import { notifyHouseholdJob } from '../../worker/jobs/notify-household.ts'
import { planFollowUpsJob } from '../../worker/jobs/plan-follow-ups.ts'
import { relayMessagesJob } from '../../worker/jobs/relay-messages.ts'
import { sendMessageJob, sendWaitingJob } from '../../worker/jobs/send-message.ts'
import type { Tools } from '../../worker/tools.ts'
import { buildTestApp } from '../build/app.ts'
import { copyTo, type Snapshot, snapshot } from '../build/made-up-home.ts'

// The simulation runs the rules of the trade and the worker's decisions in memory. Here the same years are lived once
// more on a database, with the worker's own jobs and a clock that jumps: the same letters, on the same days, to the same
// households.
const { ctx, clock } = await buildTestApp()
const { db } = ctx
const mailer = memoryMailer()
const copy = copyTo(ctx)

const WANTED = {
  homes: 12,
  years: 3,
  seed: 5,
  from: day('2027-06-01'),
  policy: DEFAULT_POLICY,
}

type Moment = { at: Date } & (
  { plan: true } | { look: true } | { act: Pick<Act, 'home' | 'follow'>; stands: Snapshot }
)

async function record() {
  const moments: Moment[] = []
  const told: Told[] = []
  const atFirst: Snapshot[] = []
  await simulate({
    ...WANTED,
    heard: {
      onBegin: ({ homes }) => void atFirst.push(...homes.map(snapshot)),
      onWork: (at) => void moments.push({ at, look: true }),
      onPlanned: () => {
        const { at } = moments.pop()!
        moments.push({ at, plan: true })
      },
      onAct: ({ at, home, follow }) =>
        void moments.push({ at, act: { home, ...(follow && { follow }) }, stands: snapshot(home) }),
      onTold: (each) => void told.push({ ...each, about: [...each.about] }),
    },
  })
  return { moments, told, atFirst }
}

/** Rings at once, as the worker does. */
const queue = {
  enqueueMany: async (name: string, payloads: readonly object[]) => {
    for (const payload of payloads) {
      if (name === 'relay-messages') await relayMessagesJob(tools)
      else if (name === 'send-waiting') await sendWaitingJob(tools)
      else await sendMessageJob(tools, payload)
    }
  },
}
const tools = { ctx, mailer, queue } as unknown as Tools

const to = (at: Date) => clock.set(at.toISOString())

/** What waits goes out when its time comes, as the sweep of every minute sees to. */
async function sendUntil(at: Date): Promise<void> {
  for (;;) {
    const next = await db.message.findFirst({
      where: { state: 'planned', sendAfter: { lte: at } },
      orderBy: { sendAfter: 'asc' },
      select: { sendAfter: true },
    })
    if (!next) return to(at)
    if (next.sendAfter > clock.now) to(next.sendAfter)
    await relayMessagesJob(tools)
  }
}

const night = async (): Promise<void> => {
  await planFollowUpsJob(tools, {})
  await notifyHouseholdJob(tools, {})
}

const isSameRun = (a: Moment, b: Moment) =>
  a.at.getTime() === b.at.getTime() && (('plan' in a && 'plan' in b) || ('look' in a && 'look' in b))

/** Days between nights that are looked at although nothing is due. */
const EVERY = 28

async function live(moments: readonly Moment[]): Promise<void> {
  let swept = WANTED.from
  let before: Moment | null = null
  for (const [n, moment] of moments.entries()) {
    // Tables that the database has never measured cost it more time than the work.
    if (n % 80 === 40) await db.$executeRaw`ANALYZE`
    // One run sees to all homes at once.
    const isDone = before !== null && isSameRun(before, moment)
    before = moment
    if (isDone) continue
    // Nights on which the simulation has nothing to do: nor has the database.
    for (; addDays(swept, EVERY) < moment.at.toISOString().slice(0, 10); swept = addDays(swept, EVERY)) {
      await sendUntil(instantAt(addDays(swept, EVERY), '01:15', COMPANY_ZONE))
      await night()
    }
    await sendUntil(moment.at)
    if ('plan' in moment) await planFollowUpsJob(tools, {})
    else if ('look' in moment) await notifyHouseholdJob(tools, {})
    else {
      await db.$transaction(async (tx) => {
        await copy.write(tx, moment.stands)
        await copy.follow(tx, moment.act, moment.stands.person)
        await planFollowUps(ctx, tx, moment.act.home.id)
      })
    }
  }
}

interface Letter {
  decided: string
  to: string
  kind: string
  about: string[]
  /** Null when it was held back. */
  sentAt: string | null
}
const byTime = (a: Letter, b: Letter) =>
  `${a.decided} ${a.to} ${a.kind} ${a.about}` < `${b.decided} ${b.to} ${b.kind} ${b.about}` ? -1 : 1

const bySimulation = (told: readonly Told[]): Letter[] =>
  told
    .map(({ person, message, about, decidedAt, sentAt }) => ({
      decided: decidedAt.toISOString(),
      to: person.id,
      kind: message.kind,
      about: about
        .map(({ followUp, dueOn, step }) => noticeKey(followUp.kind, followUp.subjectId, dueOn, step))
        .sort(),
      sentAt: sentAt?.toISOString() ?? null,
    }))
    .sort(byTime)

/** A notice in the key of a message: a follow-up may have got another day since. */
const NOTICES = /[a-z-]+\/[\da-f-]{36}\/\d{4}-\d\d-\d\d\/[+-]?\d+[dm]?/g

async function byDatabase(): Promise<Letter[]> {
  const rows = await db.message.findMany({ where: { kind: { not: 'visit-no-access' } } })
  return rows
    .map(({ customerId, kind, createdAt, dedupeKey, sentAt }) => ({
      decided: createdAt.toISOString(),
      to: customerId!,
      kind,
      about: [...(dedupeKey.match(NOTICES) ?? [])].sort(),
      sentAt: sentAt?.toISOString() ?? null,
    }))
    .sort(byTime)
}

test('three years of twelve homes: what the database sends is what the simulation says', async () => {
  const { moments, told, atFirst } = await record()
  clock.set(`${WANTED.from}T04:00:00Z`)
  for (const stands of atFirst) await copy.write(db, stands)
  await db.$executeRaw`ANALYZE`
  await live(moments)
  await sendUntil(instantAt(addYears(WANTED.from, WANTED.years), '00:00', COMPANY_ZONE))
  const wanted = bySimulation(told)
  expect(await byDatabase()).toEqual(wanted)
  expect(mailer.letters).toHaveLength(wanted.filter(({ sentAt }) => sentAt).length)
  // Equal proves something only where a lot happened.
  expect(wanted.length).toBeGreaterThan(100)
  expect(new Set(wanted.map(({ kind }) => kind)).size).toBeGreaterThan(2)
  expect(new Set(wanted.flatMap(({ about }) => about.map((key) => key.split('/')[0]))).size).toBeGreaterThan(
    3,
  )
  expect(wanted.some(({ sentAt }) => sentAt === null)).toBe(true)
}, 120_000)
