import { beforeEach, expect, test } from 'vitest'
import { day } from '../../trade/dates.ts'
import { notify } from '../../server/follow-ups/notify.ts'
import { redateDevices } from '../../server/follow-ups/redate.ts'
import type { WorklistNumbers } from '../../server/follow-ups/schema.ts'
import { planEverything } from '../../server/follow-ups/service.ts'
import { buildTestApp } from '../build/app.ts'
import { buildFinding, buildHousehold, buildProtector, type Household } from '../build/follow-up.ts'

// What a later date by the policy ends has not been seen to by anybody, and its history must not say so.
const { ctx, clock, person } = await buildTestApp()
const { db } = ctx
const admin = await person('admin')
const PUT_OFF = 'The company’s policy has moved its date to a later day; it comes back then'
const LATER = {
  surge: { checkMonths: 36 },
  finding: { repairDays: 300 },
  reinspection: { ownerYears: 15, olderHomeYears: 15 },
}

beforeEach(() => clock.set('2026-06-01T15:00:00Z'))

const change = async (changes: object) => {
  clock.set(new Date(clock.now.getTime() + 60_000).toISOString())
  const { version } = (await admin.call('GET', '/api/v1/follow-up-policy')).json()
  const headers = { 'if-match': `"${version}"` }
  const answer = await admin.call('PUT', '/api/v1/follow-up-policy', { headers, payload: { changes } })
  expect(answer.statusCode, answer.body).toBe(200)
  clock.set(new Date(clock.now.getTime() + 60_000).toISOString())
  await planEverything(ctx)
}
const at = async ({ propertyId }: Household) =>
  (
    await db.followUp.findMany({ where: { propertyId }, orderBy: [{ kind: 'asc' }, { createdAt: 'asc' }] })
  ).map(({ kind, state, closedReason }) => [kind, state, closedReason])
async function homeWithThreeThings() {
  const home = await buildHousehold(ctx, { tenure: 'owner', lastInspectedOn: day('2016-06-20') })
  await buildProtector(ctx, home, { installedOn: day('2024-01-10'), lastCheckedOn: day('2025-06-10') })
  await buildFinding(ctx, home, { severity: 'repair', foundOn: day('2026-05-15') })
  return home
}

test('the policy puts off what nobody has seen to: it says so, is no answer, and comes back with the policy', async () => {
  await redateDevices(ctx)
  const home = await homeWithThreeThings()
  await planEverything(ctx)
  await notify(ctx)
  const told = [
    ['open-finding', 'told', null],
    ['re-inspection', 'told', null],
    ['surge-check', 'told', null],
  ]
  expect(await at(home)).toEqual(told)
  const numbers = async () => (await admin.call('GET', '/api/v1/follow-ups/numbers')).json<WorklistNumbers>()
  const { answered } = await numbers()

  await change(LATER)
  expect(await at(home)).toEqual(told.map(([kind]) => [kind, 'dismissed', PUT_OFF]))
  expect((await numbers()).answered).toBe(answered)

  await change({})
  const open = await db.followUp.findMany({ where: { propertyId: home.propertyId, closedAt: null } })
  expect(open.map(({ kind }) => kind).sort()).toEqual(['open-finding', 're-inspection', 'surge-check'])
  // What was said before is not said twice.
  expect(open.every(({ lastStep }) => lastStep !== null)).toBe(true)
})

test('what somebody has seen to since is told as that, whatever the policy', async () => {
  const home = await homeWithThreeThings()
  await planEverything(ctx)
  const where = { propertyId: home.propertyId }
  await db.equipment.updateMany({
    where,
    data: { lastCheckedOn: new Date('2026-06-01'), nextCheckOn: new Date('2027-06-01') },
  })
  await db.finding.updateMany({ where, data: { state: 'checked', closedOn: new Date('2026-06-01') } })
  await db.property.update({
    where: { id: home.propertyId },
    data: { lastInspectedOn: new Date('2026-06-01') },
  })
  await change(LATER)
  expect(await at(home)).toEqual([
    ['open-finding', 'done', 'Corrected, and the correction was checked'],
    ['re-inspection', 'done', 'The home was inspected'],
    ['surge-check', 'done', 'Somebody checked it'],
  ])
})
