import { expect, test } from 'vitest'
import { day } from '../../trade/dates.ts'
import { notify } from '../../server/follow-ups/notify.ts'
import { planDue } from '../../server/follow-ups/plan.ts'
import { setAsked } from '../../server/follow-ups/store.ts'
import { newId } from '../../server/ids.ts'
import { toDay } from '../../server/time.ts'
import { buildTestApp } from '../build/app.ts'
import { buildAlarm, buildHousehold } from '../build/follow-up.ts'
import { buildLink } from '../build/link.ts'

const { app, ctx, clock } = await buildTestApp()
const { db } = ctx

async function wantsTips(since: string) {
  const home = await buildHousehold(ctx)
  const word = { customerId: home.customerId, category: 'tips', allowed: true, source: 'office' }
  await db.messagePreference.create({ data: { ...word, changedAt: new Date(since) } })
  return home
}

test('tips come on the turn of the seasons, whenever they were asked for', async () => {
  const home = await wantsTips('2026-04-20T15:00:00Z')
  const told: string[] = []
  for (const month of ['05', '06', '07', '08', '09', '10', '11', '12']) {
    for (const date of ['01', '20']) {
      clock.set(`2026-${month}-${date}T15:00:00Z`)
      await planDue(ctx, db, { propertyId: home.propertyId })
      const { messageIds } = await notify(ctx, { propertyId: home.propertyId })
      if (messageIds.length > 0) told.push(`${month}-${date}`)
    }
  }
  expect(told).toEqual(['06-01', '09-01', '12-01'])
  const tips = await db.followUp.findMany({
    where: { propertyId: home.propertyId },
    orderBy: { dueOn: 'asc' },
  })
  expect(tips.map(({ dueOn }) => toDay(dueOn))).toEqual(['2026-06-01', '2026-09-01', '2026-12-01'])
})

test('a visit that is asked for keeps no tip back: it is not ticked, and never becomes asked', async () => {
  clock.set('2026-06-01T05:00:00Z')
  const home = await wantsTips('2026-04-20T15:00:00Z')
  await buildAlarm(ctx, home, day('2026-06-20'))
  await planDue(ctx, db, { propertyId: home.propertyId })
  const { body } = await app.inject({ method: 'GET', url: await buildLink(ctx, home) })
  const [tip, alarm] = await Promise.all(
    ['self-test-tips', 'alarm-end-of-life'].map((kind) =>
      db.followUp.findFirstOrThrow({ where: { propertyId: home.propertyId, kind } }),
    ),
  )
  const boxOf = (id: string) => new RegExp(`<input[^>]*name="about"[^>]*value="${id}"[^>]*>`).exec(body)?.[0]
  expect(boxOf(alarm!.id)).toMatch(/checked/)
  expect(boxOf(tip!.id) ?? '').not.toMatch(/checked/)
  await setAsked(db, [tip!.id], newId(), clock.now)
  expect(await db.followUp.findUniqueOrThrow({ where: { id: tip!.id } })).toMatchObject({
    state: 'planned',
    requestId: null,
  })
})
