import { expect, test } from 'vitest'
import { addDays, day } from '../../trade/dates.ts'
import { notify } from '../../server/follow-ups/notify.ts'
import { planDue } from '../../server/follow-ups/plan.ts'
import { nextSendingTime } from '../../server/follow-ups/sending-time.ts'
import { toDay } from '../../server/time.ts'
import { buildTestApp } from '../build/app.ts'
import { buildAlarm, buildFinding, buildHousehold, buildVisit } from '../build/follow-up.ts'

const { ctx, clock } = await buildTestApp()
const { db } = ctx
const hours = { from: '08:00', to: '20:00' }

async function run() {
  await planDue(ctx, db, {})
  return notify(ctx)
}
const messagesTo = (customerId: string) =>
  db.message.findMany({ where: { customerId }, include: { followUps: true }, orderBy: { createdAt: 'asc' } })
const followUpsAt = (propertyId: string) =>
  db.followUp.findMany({ where: { propertyId }, orderBy: { dueOn: 'asc' } })

test('six alarms of one home are one message, with a link and all six in it', async () => {
  clock.set('2026-06-01T15:00:00Z')
  const home = await buildHousehold(ctx)
  for (let n = 0; n < 6; n++) await buildAlarm(ctx, home, day('2026-08-30'), `Alarm ${n}`)
  await run()
  await run()
  const [message, ...others] = await messagesTo(home.customerId)
  expect(others).toEqual([])
  expect(message).toMatchObject({
    kind: 'due-reminder',
    category: 'reminder',
    state: 'planned',
    propertyId: home.propertyId,
  })
  expect(message!.reason).toMatch(/^At \d+ Quay Lane: Alarm at the end of its life \(6\)$/)
  expect(message!.followUps.map(({ step }) => step)).toEqual(Array(6).fill('-90'))
  const followUps = await followUpsAt(home.propertyId)
  expect(
    followUps.map(({ state, lastStep, nextNoticeOn }) => [state, lastStep, toDay(nextNoticeOn)]),
  ).toEqual(Array(6).fill(['told', '-90', '2026-07-31']))
  const link = await db.privateLink.findUniqueOrThrow({ where: { id: message!.id } })
  expect(link).toMatchObject({ customerId: home.customerId, propertyId: home.propertyId, purpose: 'due' })
})

test('a worker that was down gives only the latest step: 20 January to 25 February, due 28 February', async () => {
  // Handbook of follow-up timing, section 12: one mail, the "7 days" step.
  clock.set('2026-01-20T15:00:00Z')
  const home = await buildHousehold(ctx)
  await buildAlarm(ctx, home, day('2026-02-28'))
  clock.set('2026-02-25T15:00:00Z')
  await run()
  const messages = await messagesTo(home.customerId)
  expect(messages.map((each) => each.followUps.map(({ step }) => step))).toEqual([['-7']])
})

test('what falls due at the home within 14 days comes along; what is later has its own message', async () => {
  clock.set('2026-06-01T15:00:00Z')
  const home = await buildHousehold(ctx)
  await buildAlarm(ctx, home, day('2026-08-30'), 'Hall')
  await buildAlarm(ctx, home, day('2026-09-09'), 'Cellar')
  await buildAlarm(ctx, home, day('2026-09-20'), 'Attic')
  // Their notices would begin on 11 June and 22 June.
  clock.set('2026-06-12T15:00:00Z')
  await run()
  const [message, ...others] = await messagesTo(home.customerId)
  expect(others).toEqual([])
  expect(message!.followUps).toHaveLength(2)
  clock.set('2026-06-22T15:00:00Z')
  await run()
  expect((await messagesTo(home.customerId)).map((each) => each.followUps.length)).toEqual([2, 1])
})

test('a landlord of three homes gets one message for all', async () => {
  clock.set('2026-06-01T15:00:00Z')
  const first = await buildHousehold(ctx)
  const second = await buildHousehold(ctx, { customerId: first.customerId, zone: 'America/Chicago' })
  const third = await buildHousehold(ctx, { customerId: first.customerId })
  for (const home of [first, second, third]) await buildAlarm(ctx, home, day('2026-08-30'))
  await run()
  const messages = await messagesTo(first.customerId)
  expect(messages.map((each) => [each.propertyId, each.followUps.length])).toEqual([[null, 3]])
})

test('a home where the day begins later is not pushed aside by those of its owner where it begins earlier', async () => {
  clock.set('2026-06-01T15:00:00Z')
  const east = await buildHousehold(ctx)
  const west = await buildHousehold(ctx, { customerId: east.customerId, zone: 'Pacific/Honolulu' })
  await buildAlarm(ctx, east, day('2026-08-30'), 'Hall')
  await run()
  // Both have something to say on 8 June, the first day that the cap leaves; it begins in New York six hours earlier.
  await buildAlarm(ctx, east, day('2026-07-01'), 'Cellar')
  await buildAlarm(ctx, west, day('2026-06-20'), 'Porch')
  clock.set('2026-06-03T15:00:00Z')
  await run()
  clock.set('2026-06-08T05:00:00Z')
  await run()
  const [, second] = await messagesTo(east.customerId)
  expect(second!.followUps).toHaveLength(2)
  // 14:00 in New York is 8:00 in Honolulu: nobody is written to at night.
  expect(second!.sendAfter.toISOString()).toBe('2026-06-08T18:00:00.000Z')
})

test('at most one message that offers work in 7 days; the next waits for its day', async () => {
  clock.set('2026-06-01T15:00:00Z')
  const home = await buildHousehold(ctx)
  await buildAlarm(ctx, home, day('2026-08-30'), 'Hall')
  await run()
  await buildAlarm(ctx, home, day('2026-07-01'), 'Cellar')
  clock.set('2026-06-03T15:00:00Z')
  await run()
  expect(await messagesTo(home.customerId)).toHaveLength(1)
  const [held] = await followUpsAt(home.propertyId)
  expect([held!.lastStep, toDay(held!.nextNoticeOn)]).toEqual([null, '2026-06-08'])
  clock.set('2026-06-08T12:30:00Z')
  await run()
  const [first, second] = await messagesTo(home.customerId)
  expect(second!.sendAfter.getTime() - first!.sendAfter.getTime()).toBe(7 * 86_400_000)
})

test('a hazard is told at once: at night, over the cap, to one who refused reminders, while a visit is booked', async () => {
  clock.set('2026-06-02T03:30:00Z')
  const home = await buildHousehold(ctx)
  await db.messagePreference.create({
    data: { customerId: home.customerId, category: 'reminder', allowed: false, source: 'unsubscribe' },
  })
  await buildVisit(ctx, home, new Date('2026-06-05T14:00:00Z'))
  await buildFinding(ctx, home, { severity: 'unsafe', text: 'Bare conductor at the panel' })
  await run()
  const messages = await messagesTo(home.customerId)
  expect(messages.map(({ kind, category, sendAfter }) => [kind, category, sendAfter.toISOString()])).toEqual([
    ['unsafe-finding', 'safety', '2026-06-02T03:30:00.000Z'],
  ])
})

test('a refusal of reminders ends them, and is written down', async () => {
  clock.set('2026-06-01T15:00:00Z')
  const home = await buildHousehold(ctx)
  await db.messagePreference.create({
    data: { customerId: home.customerId, category: 'reminder', allowed: false, source: 'unsubscribe' },
  })
  await buildAlarm(ctx, home, day('2026-08-30'))
  await run()
  expect(await messagesTo(home.customerId)).toEqual([])
  const [followUp] = await followUpsAt(home.propertyId)
  expect(followUp).toMatchObject({
    state: 'dismissed',
    closedReason: 'The person does not want this kind of message',
  })
  await run()
  expect(await followUpsAt(home.propertyId)).toHaveLength(1)
})

test.each([
  ['no address', { email: null }, 'There is no e-mail address; phone them.'],
  [
    'an address that came back',
    { email: 'gone@example.com' },
    'The address is put aside (bounced); phone them.',
  ],
  [
    'what is no address',
    { email: 'robin at example' },
    '“robin at example” is not an e-mail address; phone them.',
  ],
])('%s: held back with the reason, and it stays for the office to phone', async (_what, more, why) => {
  clock.set('2026-06-01T15:00:00Z')
  const home = await buildHousehold(ctx, more)
  if (why.includes('put aside'))
    await db.suppressedAddress.create({ data: { email: more.email!, reason: 'bounced' } })
  await buildAlarm(ctx, home, day('2026-08-30'))
  const { messageIds } = await run()
  expect(messageIds).toEqual([])
  const [message] = await messagesTo(home.customerId)
  expect(message).toMatchObject({ state: 'suppressed', lastError: why })
  expect(await followUpsAt(home.propertyId)).toMatchObject([
    { state: 'planned', lastStep: '-90', closedAt: null },
  ])
})

test('a booked visit holds the mail that offers work; called off, it speaks again with the latest step', async () => {
  clock.set('2026-06-01T15:00:00Z')
  const home = await buildHousehold(ctx)
  await buildAlarm(ctx, home, day('2026-08-30'))
  const visitId = await buildVisit(ctx, home, new Date('2026-06-04T14:00:00Z'))
  await run()
  expect(await messagesTo(home.customerId)).toEqual([])
  expect(await followUpsAt(home.propertyId)).toMatchObject([{ state: 'booked', visitId }])
  await db.visit.update({ where: { id: visitId }, data: { state: 'cancelled' } })
  clock.set('2026-08-02T15:00:00Z')
  await run()
  const messages = await messagesTo(home.customerId)
  expect(messages.map((each) => each.followUps.map(({ step }) => step))).toEqual([['-30']])
})

test('the visit is reminded of two days before, and not when it was booked only yesterday', async () => {
  clock.set('2026-06-10T15:00:00Z')
  const early = await buildHousehold(ctx)
  const late = await buildHousehold(ctx)
  await buildVisit(ctx, early, new Date('2026-06-12T14:00:00Z'), {
    createdAt: new Date('2026-06-01T12:00:00Z'),
  })
  await buildVisit(ctx, late, new Date('2026-06-12T14:00:00Z'), {
    createdAt: new Date('2026-06-10T12:00:00Z'),
  })
  await run()
  expect((await messagesTo(early.customerId)).map(({ kind }) => kind)).toEqual(['visit-reminder'])
  expect(await messagesTo(late.customerId)).toEqual([])
})

test('the office’s own steps write no mail and go on', async () => {
  clock.set('2026-06-01T15:00:00Z')
  const home = await buildHousehold(ctx)
  await buildFinding(ctx, home, { severity: 'repair', foundOn: day('2026-05-03') })
  // Due on 31 May; one day later the step is a call.
  await run()
  expect(await messagesTo(home.customerId)).toEqual([])
  expect(await followUpsAt(home.propertyId)).toMatchObject([{ lastStep: '+1', state: 'planned' }])
})

test('snoozed, it is silent until then', async () => {
  clock.set('2026-06-01T15:00:00Z')
  const home = await buildHousehold(ctx)
  await buildAlarm(ctx, home, day('2026-08-30'))
  await planDue(ctx, db, {})
  const until = addDays(day('2026-06-01'), 20)
  await db.followUp.updateMany({
    where: { propertyId: home.propertyId },
    data: { snoozedUntil: new Date(until), nextNoticeOn: new Date(until) },
  })
  await run()
  expect(await messagesTo(home.customerId)).toEqual([])
  clock.set('2026-06-21T15:00:00Z')
  await run()
  expect(await messagesTo(home.customerId)).toHaveLength(1)
})

test('two runs at once write one message', async () => {
  clock.set('2026-06-01T15:00:00Z')
  const homes = await Promise.all(Array.from({ length: 8 }, () => buildHousehold(ctx)))
  for (const home of homes) await buildAlarm(ctx, home, day('2026-08-30'))
  await planDue(ctx, db, {})
  await Promise.all([notify(ctx), notify(ctx), notify(ctx)])
  for (const home of homes) expect(await messagesTo(home.customerId)).toHaveLength(1)
})

test.each([
  // EM8: 20:30 at the home is next morning at 8. Summer time begins in New York on 8 March and ends on 1 November 2026.
  ['2026-06-02T00:30:00Z', 'America/New_York', '2026-06-02T12:00:00.000Z'],
  ['2026-06-02T00:00:00Z', 'America/New_York', '2026-06-02T12:00:00.000Z'],
  ['2026-06-01T23:59:00Z', 'America/New_York', '2026-06-01T23:59:00.000Z'],
  ['2026-06-01T11:59:00Z', 'America/New_York', '2026-06-01T12:00:00.000Z'],
  ['2026-06-01T12:00:00Z', 'America/New_York', '2026-06-01T12:00:00.000Z'],
  ['2026-03-08T02:00:00Z', 'America/New_York', '2026-03-08T12:00:00.000Z'],
  ['2026-03-08T12:30:00Z', 'America/New_York', '2026-03-08T12:30:00.000Z'],
  ['2026-11-01T01:00:00Z', 'America/New_York', '2026-11-01T13:00:00.000Z'],
  ['2026-11-01T12:30:00Z', 'America/New_York', '2026-11-01T13:00:00.000Z'],
  ['2026-03-08T09:30:00Z', 'America/Phoenix', '2026-03-08T15:00:00.000Z'],
  ['2026-07-02T06:30:00Z', 'America/Los_Angeles', '2026-07-02T15:00:00.000Z'],
])('at %s in %s the next moment between 8:00 and 20:00 is %s', (at, zone, wanted) => {
  expect(nextSendingTime(new Date(at), zone, hours).toISOString()).toBe(wanted)
})

test('a reminder decided at night waits for the morning at the home', async () => {
  clock.set('2026-11-01T05:30:00Z')
  const home = await buildHousehold(ctx)
  await buildAlarm(ctx, home, day('2026-11-20'))
  await run()
  const [message] = await messagesTo(home.customerId)
  expect(message!.sendAfter.toISOString()).toBe('2026-11-01T13:00:00.000Z')
})
