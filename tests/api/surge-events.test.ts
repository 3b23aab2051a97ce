import { beforeEach, expect, test } from 'vitest'
import { day } from '../../trade/dates.ts'
import { notify } from '../../server/follow-ups/notify.ts'
import { planDue } from '../../server/follow-ups/plan.ts'
import { newId } from '../../server/ids.ts'
import { toDay } from '../../server/time.ts'
import { buildTestApp } from '../build/app.ts'
import { buildHousehold, buildProtector, buildVisit } from '../build/follow-up.ts'

const { ctx, clock, person, nobody } = await buildTestApp()
const { db } = ctx
const office = await person('office', 'Sam Brook')
const technician = await person('technician')
const URL = '/api/v1/follow-ups/surge-event'

beforeEach(() => clock.set('2026-06-01T15:00:00Z'))

const storm = (payload: object) => office.call('POST', URL, { payload: { kind: 'storm', ...payload } })
const preview = async (payload: object) =>
  (await office.call('POST', `${URL}/preview`, { payload: { kind: 'storm', ...payload } })).json()
const plan = () => planDue(ctx, db, {})
const DATES = { installedOn: day('2025-10-01'), lastCheckedOn: day('2026-03-01') }

async function homeIn(city: string, more: Parameters<typeof buildHousehold>[1] = {}, dates: object = {}) {
  const home = await buildHousehold(ctx, { city, ...more })
  await buildProtector(ctx, home, { ...DATES, details: { indicator: 'good' }, ...dates })
  return home
}
const townOf = () => `Gale Point ${newId().slice(-6)}`
const eventAt = (propertyId: string) =>
  db.followUp.findFirst({ where: { propertyId, kind: 'surge-after-event' }, orderBy: { id: 'desc' } })

test('the protectors of the town are asked after, once, until somebody looked', async () => {
  const city = townOf()
  const home = await homeIn(city)
  await homeIn('Elsewhere')
  expect((await storm({ on: '2026-05-30', city: city.toUpperCase() })).json()).toEqual({ opened: 1 })
  expect((await storm({ on: '2026-05-30', city })).json()).toEqual({ opened: 0 })
  expect((await eventAt(home.propertyId))!.reason).toContain('protector “Panel”')
  await plan()
  expect(await eventAt(home.propertyId)).toMatchObject({ closedAt: null })
  await db.equipment.updateMany({
    where: { propertyId: home.propertyId },
    data: { lastCheckedOn: new Date('2026-06-01') },
  })
  await plan()
  expect(await eventAt(home.propertyId)).toMatchObject({
    state: 'done',
    closedReason: 'Somebody checked it',
  })
})

test('before it is done it says how many homes, protectors and letters, and writes nothing', async () => {
  const city = townOf()
  await homeIn(city, { line1: '1 Quay Lane' })
  const two = await homeIn(city, { line1: '2 Quay Lane' })
  await buildProtector(ctx, two, DATES)
  await homeIn(city, { line1: '3 Pier Road', email: null })
  const refuser = await homeIn(city, { line1: '4 Pier Road' })
  await db.messagePreference.create({
    data: { customerId: refuser.customerId, category: 'about-surge', allowed: false, source: 'office' },
  })
  const visited = await homeIn(city, { line1: '5 Pier Road' })
  await buildVisit(ctx, visited, new Date('2026-06-09T14:00:00Z'))
  await buildHousehold(ctx, { city })
  const counts = { homesThere: 6, homes: 5, protectors: 6, moved: 0, letters: 2, confirm: null }
  expect(await preview({ on: '2026-05-30', city })).toEqual(counts)
  expect(await preview({ on: '2026-05-30', city, street: 'quay' })).toMatchObject({ homes: 2, letters: 2 })
  expect(await preview({ on: '2026-05-30', propertyId: two.propertyId })).toMatchObject({
    homesThere: 1,
    protectors: 2,
  })
  expect(await db.followUp.count({ where: { property: { city } } })).toBe(0)
  expect((await storm({ on: '2026-05-30', city })).json()).toEqual({ opened: 6 })
  // Somebody is on their way there already.
  expect(await eventAt(visited.propertyId)).toMatchObject({ state: 'booked', visitId: expect.any(String) })
  const { messageIds } = await notify(ctx)
  expect(messageIds).toHaveLength(2)
})

test('a second storm moves what is open to the newer day, where its letters begin anew', async () => {
  const city = townOf()
  const home = await homeIn(city)
  await storm({ on: '2026-05-30', city })
  await notify(ctx)
  expect(await eventAt(home.propertyId)).toMatchObject({ state: 'told', lastStep: '-6' })
  clock.set('2026-06-05T15:00:00Z')
  expect(await preview({ on: '2026-06-04', city })).toMatchObject({ protectors: 1, moved: 1 })
  expect((await storm({ on: '2026-06-04', city })).json()).toEqual({ opened: 1 })
  const moved = (await eventAt(home.propertyId))!
  expect([toDay(moved.dueOn), moved.state, moved.lastStep]).toEqual(['2026-06-11', 'planned', null])
  // Written down late: the newer one stands.
  expect((await storm({ on: '2026-06-02', city })).json()).toEqual({ opened: 0 })
})

test('one put in since the storm is not asked about, nor one that was dealt with after it', async () => {
  const city = townOf()
  await homeIn(city, {}, { installedOn: day('2026-05-31'), lastCheckedOn: null })
  const home = await homeIn(city)
  expect(await preview({ on: '2026-05-30', city })).toMatchObject({ homes: 1 })
  await storm({ on: '2026-05-30', city })
  const { id } = (await eventAt(home.propertyId))!
  await office.call('POST', `/api/v1/follow-ups/${id}/dismiss`, { payload: { reason: 'They looked' } })
  expect((await storm({ on: '2026-05-30', city })).json()).toEqual({ opened: 0 })
  expect((await storm({ on: '2026-05-31', city })).json()).toEqual({ opened: 2 })
})

test.each([
  [{ on: '2026-06-02', city: 'Port Ansel' }, '#/on'],
  [{ on: '2025-06-01', city: 'Port Ansel' }, '#/on'],
  [{ on: '2026-05-30' }, '#/city'],
  [{ on: '2026-05-30', city: ' ' }, '#/city'],
  [{ on: '2026-05-30', city: 'Port Ansel', propertyId: newId() }, '#/city'],
  [{ on: '2026-05-30', propertyId: newId(), street: 'Quay Lane' }, '#/street'],
])('%j is refused where it is wrong', async (payload, pointer) => {
  for (const url of [URL, `${URL}/preview`]) {
    const answer = await office.call('POST', url, { payload: { kind: 'storm', ...payload } })
    expect(answer.statusCode).toBe(400)
    expect(answer.json().errors[0].pointer).toBe(pointer)
  }
})

test('an unknown home is said to be one, and only the office may', async () => {
  expect((await storm({ on: '2026-05-30', propertyId: newId() })).statusCode).toBe(404)
  const payload = { kind: 'storm', on: '2026-05-30', city: 'Port Ansel' }
  expect((await nobody('POST', URL, { payload })).statusCode).toBe(401)
  expect((await technician.call('POST', `${URL}/preview`, { payload })).statusCode).toBe(403)
})

test('many letters need their number said back', async () => {
  const city = townOf()
  await db.$executeRaw`INSERT INTO customer (id, kind, name, email, address_lines)
    SELECT md5('gale' || n)::uuid, 'person', 'Customer ' || n, 'gale-' || n || '@example.com', '{}' FROM generate_series(1, 150) n`
  await db.$executeRaw`INSERT INTO property (id, line1, city, region, postcode, time_zone, fuels)
    SELECT md5('gale' || n)::uuid, n || ' Sea Street', ${city}, 'NY', '12990', 'America/New_York', '{}' FROM generate_series(1, 150) n`
  await db.$executeRaw`INSERT INTO property_party (property_id, customer_id, role, is_contact)
    SELECT md5('gale' || n)::uuid, md5('gale' || n)::uuid, 'owner', true FROM generate_series(1, 150) n`
  await db.$executeRaw`INSERT INTO equipment (id, property_id, kind, label, details)
    SELECT md5('gale' || n)::uuid, md5('gale' || n)::uuid, 'surge-protector', 'Panel', '{}' FROM generate_series(1, 150) n`
  expect(await preview({ on: '2026-05-30', city })).toMatchObject({ letters: 150, confirm: 150 })
  const refused = await storm({ on: '2026-05-30', city })
  expect(refused.statusCode).toBe(409)
  expect(refused.json()).toMatchObject({ type: '/problems/confirm-messages', confirm: 150 })
  const tooMany = await storm({ on: '2026-05-30', city, confirmMessages: 40_000 })
  expect(tooMany.statusCode).toBe(409)
  expect(await db.followUp.count({ where: { property: { city } } })).toBe(0)
  const done = await storm({ on: '2026-05-30', city, confirmMessages: 150 })
  expect(done.json()).toEqual({ opened: 150 })
})
