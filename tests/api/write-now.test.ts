import { beforeEach, expect, test } from 'vitest'
import { day } from '../../trade/dates.ts'
import { planDue } from '../../server/follow-ups/plan.ts'
import { buildTestApp } from '../build/app.ts'
import { buildAlarm, buildHousehold, buildVisit } from '../build/follow-up.ts'

// What the office writes by hand: whoever would rather have no letter now is left out unless it says so twice.
const { ctx, clock, person, nobody } = await buildTestApp()
const { db } = ctx
const office = await person('office', 'Sam Brook')
const technician = await person('technician')
const URL = '/api/v1/follow-ups'

beforeEach(() => clock.set('2026-06-01T15:00:00Z'))

async function due(more: Parameters<typeof buildHousehold>[1] = {}) {
  const home = await buildHousehold(ctx, more)
  await buildAlarm(ctx, home, day('2026-06-20'))
  await planDue(ctx, db, { propertyId: home.propertyId })
  const { id } = await db.followUp.findFirstOrThrow({ where: { propertyId: home.propertyId } })
  return { ...home, id }
}
const write = async (ids: string[], more: object = {}) =>
  (await office.call('POST', `${URL}/bulk`, { payload: { action: 'message', ids, ...more } })).json()
const preview = async (ids: string[]) =>
  (await office.call('POST', `${URL}/messages-preview`, { payload: { ids } })).json()
const lettersTo = (customerId: string) => db.message.count({ where: { customerId } })

async function everyone() {
  const free = await due()
  const written = await due()
  await write([written.id])
  const snoozed = await due()
  await db.followUp.update({ where: { id: snoozed.id }, data: { snoozedUntil: new Date('2026-07-01') } })
  const asked = await due()
  await db.followUp.update({ where: { id: asked.id }, data: { state: 'asked' } })
  const booked = await due()
  await buildVisit(ctx, booked, new Date('2026-06-09T14:00:00Z'))
  await planDue(ctx, db, { propertyId: booked.propertyId })
  const refused = await due()
  await db.messagePreference.create({
    data: { customerId: refused.customerId, category: 'reminder', allowed: false, source: 'office' },
  })
  const silent = await due({ email: null })
  clock.set('2026-06-03T15:00:00Z')
  const all = { free, written, snoozed, asked, booked, refused, silent }
  return { ...all, ids: Object.values(all).map(({ id }) => id) }
}

test('before it is done it says how many letters, and who would rather have none; nothing is written', async () => {
  const { ids, free } = await everyone()
  expect(await preview(ids)).toEqual({
    letters: 1,
    lettersToAll: 5,
    held: [
      { why: 'Had a letter in the last days', followUps: 1 },
      { why: 'Asked to be left in peace until a day to come', followUps: 1 },
      { why: 'Asked for a visit', followUps: 1 },
      { why: 'A visit is booked', followUps: 1 },
    ],
    refused: 1,
    unreachable: 1,
  })
  expect(await lettersTo(free.customerId)).toBe(0)
  expect(await db.followUp.findUniqueOrThrow({ where: { id: free.id } })).toMatchObject({ lastStep: null })
})

test('they are left out, each with why, and stay as they are', async () => {
  const { ids, written, snoozed, asked, booked, refused, silent } = await everyone()
  const result = await write(ids)
  expect(result).toMatchObject({ done: 1, messages: 1 })
  expect(
    Object.fromEntries(result.left.map(({ id, why }: { id: string; why: string }) => [id, why])),
  ).toEqual({
    [written.id]: 'They had a letter in the last days.',
    [snoozed.id]: 'They are to be left in peace until July 1, 2026.',
    [asked.id]: 'They have asked for a visit.',
    [booked.id]: 'A visit is booked.',
    [refused.id]: 'The person does not want this kind of message',
    [silent.id]: 'There is no e-mail address; phone them.',
  })
  expect(await db.followUp.findUniqueOrThrow({ where: { id: snoozed.id } })).toMatchObject({
    state: 'planned',
    snoozedUntil: new Date('2026-07-01'),
  })
})

test('written all the same where the office says so, but never to who said no', async () => {
  const { ids, written, snoozed, asked, booked, refused } = await everyone()
  expect(await write(ids, { all: true })).toMatchObject({ done: 5, messages: 5 })
  for (const { customerId } of [snoozed, asked, booked]) expect(await lettersTo(customerId)).toBe(1)
  expect(await lettersTo(written.customerId)).toBe(2)
  expect(await lettersTo(refused.customerId)).toBe(0)
})

test('only the office may ask, about something', async () => {
  const { id } = await due()
  const payload = { ids: [id] }
  expect((await nobody('POST', `${URL}/messages-preview`, { payload })).statusCode).toBe(401)
  expect((await technician.call('POST', `${URL}/messages-preview`, { payload })).statusCode).toBe(403)
  expect((await office.call('POST', `${URL}/messages-preview`, { payload: { ids: [] } })).statusCode).toBe(
    400,
  )
})
