import { beforeEach, expect, test } from 'vitest'
import { day } from '../../trade/dates.ts'
import { notify } from '../../server/follow-ups/notify.ts'
import { planDue } from '../../server/follow-ups/plan.ts'
import { newId } from '../../server/ids.ts'
import { buildTestApp } from '../build/app.ts'
import { buildAlarm, buildHousehold } from '../build/follow-up.ts'

// “Stop writing to me”, said on the phone: the office writes it down, and it counts like their own word.
const { ctx, clock, person, nobody } = await buildTestApp()
const { db } = ctx
const office = await person('office', 'Sam Brook')
const technician = await person('technician')
const urlOf = (id: string) => `/api/v1/customers/${id}/preferences`
const read = async (id: string) => (await office.call('GET', urlOf(id))).json()
const set = (id: string, wishes: object) => office.call('PUT', urlOf(id), { payload: { wishes } })

beforeEach(() => clock.set('2026-06-01T15:00:00Z'))

test('what holds while nobody has said anything, and who said something when', async () => {
  const { customerId } = await buildHousehold(ctx)
  const before = await read(customerId)
  expect(before).toMatchObject({
    reminder: { allowed: true, said: null, title: 'Reminders of what is due' },
    tips: { allowed: false, said: null },
  })
  expect(before.topics.map(({ allowed }: { allowed: boolean }) => allowed)).toEqual(Array(5).fill(true))
  await db.messagePreference.create({
    data: { customerId, category: 'tips', allowed: true, source: 'preferences-page', changedAt: clock.now },
  })
  const said = await set(customerId, { 'about-surge': false, tips: true })
  expect(said.statusCode, said.body).toBe(200)
  const after = await read(customerId)
  expect(after.topics[1]).toEqual({
    category: 'about-surge',
    title: 'The surge protector',
    allowed: false,
    said: { source: 'office', by: 'Sam Brook', at: '2026-06-01T15:00:00.000Z' },
  })
  // Said again, it stays their own word.
  expect(after.tips.said).toMatchObject({ source: 'preferences-page', by: null })
  const entries = await db.auditEntry.findMany({ where: { subjectId: customerId } })
  expect(entries).toMatchObject([
    {
      action: 'customer.preference',
      actorId: office.id,
      after: { category: 'about-surge', allowed: false, source: 'office' },
    },
  ])
})

test('refused on the phone no letter goes out; wanted again, it does', async () => {
  const home = await buildHousehold(ctx)
  await buildAlarm(ctx, home, day('2026-06-20'))
  await planDue(ctx, db, { propertyId: home.propertyId })
  await set(home.customerId, { reminder: false })
  expect((await notify(ctx, { propertyId: home.propertyId })).messageIds).toEqual([])
  await set(home.customerId, { reminder: true })
  clock.set('2026-06-21T15:00:00Z')
  expect((await notify(ctx, { propertyId: home.propertyId })).messageIds).toHaveLength(1)
})

test('bookings and hazards are nobody’s choice; a customer that is not there is said to be none', async () => {
  const { customerId } = await buildHousehold(ctx)
  const refused = await set(customerId, { safety: false })
  expect([refused.statusCode, refused.json().errors[0].pointer]).toEqual([400, '#/wishes'])
  expect((await set(customerId, { reminder: 'no' })).statusCode).toBe(400)
  expect((await set(newId(), { reminder: false })).statusCode).toBe(404)
  expect((await office.call('GET', urlOf(newId()))).statusCode).toBe(404)
  expect((await nobody('GET', urlOf(customerId))).statusCode).toBe(401)
  expect((await technician.call('GET', urlOf(customerId))).statusCode).toBe(403)
})
