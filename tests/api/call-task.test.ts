import { beforeEach, expect, test } from 'vitest'
import { day } from '../../trade/dates.ts'
import { notify } from '../../server/follow-ups/notify.ts'
import { planDue } from '../../server/follow-ups/plan.ts'
import { buildTestApp } from '../build/app.ts'
import { buildFinding, buildHousehold } from '../build/follow-up.ts'

const { ctx, clock, person } = await buildTestApp()
const { db } = ctx
const office = await person('office', 'Sam Brook')
const URL = '/api/v1/follow-ups'

beforeEach(() => clock.set('2026-06-01T15:00:00Z'))

/** Found on 1 June, to be repaired by 29 June: the notice of 30 June is a call. */
async function callDue(zone: string): Promise<string> {
  const home = await buildHousehold(ctx, { zone })
  await buildFinding(ctx, home, { severity: 'repair', foundOn: day('2026-06-01') })
  for (const iso of ['2026-06-16T15:00:00Z', '2026-06-27T15:00:00Z', '2026-06-30T22:00:00Z']) {
    clock.set(iso)
    await planDue(ctx, db, { propertyId: home.propertyId })
    await notify(ctx, { propertyId: home.propertyId })
  }
  return (await db.followUp.findFirstOrThrow({ where: { propertyId: home.propertyId } })).id
}
const taskOf = async (id: string) => (await office.call('GET', `${URL}/${id}`)).json().task
const call = (id: string, outcome: string) =>
  office.call('POST', `${URL}/${id}/call`, { payload: { outcome } })

test.each([
  ['no-answer', 'call'],
  ['wrong-number', 'call'],
  ['reached', null],
  ['will-call-back', null],
])('a call that ended with %s leaves the task %s', async (outcome, task) => {
  const id = await callDue('America/New_York')
  expect(await taskOf(id)).toBe('call')
  expect((await call(id, outcome)).statusCode).toBe(200)
  expect(await taskOf(id)).toBe(task)
})

test('nobody answered, then they were reached: the task is done; to be called again, it comes back that day', async () => {
  const id = await callDue('America/New_York')
  await call(id, 'no-answer')
  await call(id, 'call-later')
  clock.set('2026-07-02T15:00:00Z')
  expect(await taskOf(id)).toBe('call')
  await call(id, 'reached')
  expect(await taskOf(id)).toBeNull()
})

test('the day of the call is the home’s: the evening before in Hawaii is before the notice', async () => {
  const id = await callDue('Pacific/Honolulu')
  // 29 June, eight in the evening at the home; 30 June in UTC.
  const at = new Date('2026-06-30T06:00:00Z')
  await db.callNote.create({
    data: { id: crypto.randomUUID(), followUpId: id, outcome: 'reached', note: '', byId: office.id, at },
  })
  expect(await taskOf(id)).toBe('call')
})
