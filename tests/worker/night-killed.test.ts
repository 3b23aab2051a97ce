import { expect, test } from 'vitest'
import { day } from '../../trade/dates.ts'
import { notify } from '../../server/follow-ups/notify.ts'
import { planDue } from '../../server/follow-ups/plan.ts'
import { closeEnded } from '../../server/follow-ups/plan-store.ts'
import { getPolicy } from '../../server/follow-ups/policy.ts'
import { buildTestApp } from '../build/app.ts'
import { buildAlarm, buildFinding, buildHousehold, buildProtector } from '../build/follow-up.ts'
import { Killed, mortal } from '../build/mortal.ts'

// Every statement of a night (to plan, to decide, to write letters) is a place to die at. The next worker finishes what
// is there: each household is told of everything, once, and nothing is half written.

const { ctx, clock } = await buildTestApp()
const { db } = ctx

/** More than the statements of a night, so that the last of them kill nobody. */
const PLACES = [...Array(18).keys()].flatMap((n) => [`before ${n + 1}`, `after ${n + 1}`])
const survived: string[] = []

async function night(at: typeof ctx) {
  await planDue(at, at.db, {})
  await notify(at)
}

async function buildStreet() {
  const [one, other] = [await buildHousehold(ctx), await buildHousehold(ctx)]
  await buildAlarm(ctx, one, day('2026-08-30'), 'Hall alarm')
  await buildAlarm(ctx, one, day('2026-08-30'), 'Bedroom alarm')
  await buildFinding(ctx, one, { severity: 'unsafe', text: 'Bare live conductor behind the dryer outlet' })
  await buildProtector(ctx, other, { installedOn: day('2024-06-01'), lastCheckedOn: day('2025-06-10') })
  // Ended that same night: it was replaced since it was spoken of.
  const replaced = await buildAlarm(ctx, other, day('2026-08-20'), 'Old alarm')
  await planDue(ctx, db, { propertyId: other.propertyId })
  await db.equipment.update({ where: { id: replaced }, data: { retiredOn: new Date('2026-06-01') } })
  return { one, other }
}

test.each(PLACES)('a night that dies %s statements is finished by the next', async (where) => {
  clock.set('2026-06-01T15:00:00Z')
  const [when, count] = where.split(' ')
  const { one, other } = await buildStreet()
  await night({ ...ctx, db: mortal(db, Number(count), when === 'after') }).then(
    () => survived.push(where),
    (error: unknown) => expect(error).toBeInstanceOf(Killed),
  )
  await night(ctx)

  const toldOf = async ({ customerId }: typeof one) => {
    const messages = await db.message.findMany({
      where: { customerId },
      include: { followUps: { include: { followUp: true } } },
      orderBy: { kind: 'asc' },
    })
    for (const { id } of messages) expect(await db.privateLink.count({ where: { id } })).toBe(1)
    return messages.map(({ kind, followUps }) => [
      kind,
      ...followUps.map((each) => each.followUp.kind).sort(),
    ])
  }
  expect(await toldOf(one)).toEqual([
    ['due-reminder', 'alarm-end-of-life', 'alarm-end-of-life'],
    ['unsafe-finding', 'open-finding'],
  ])
  expect(await toldOf(other)).toEqual([['due-reminder', 'surge-check']])
  const states = await db.followUp.groupBy({
    by: ['kind', 'state'],
    where: { propertyId: { in: [one.propertyId, other.propertyId] } },
    _count: true,
    orderBy: [{ kind: 'asc' }, { state: 'asc' }],
  })
  expect(states.map(({ kind, state, _count }) => `${_count} ${kind} ${state}`)).toEqual([
    '1 alarm-end-of-life done',
    '2 alarm-end-of-life told',
    '1 open-finding told',
    '1 surge-check told',
  ])
})

test('every statement of a night was died at', () => {
  expect(survived.length).toBeGreaterThanOrEqual(2)
  expect(survived).toEqual(PLACES.slice(-survived.length))
})

test('what ended is found without walking through everything once for each home, though nobody measured the tables', async () => {
  const open = await db.followUp.count({ where: { closedAt: null } })
  const run = { policy: await getPolicy(db), now: ctx.now() }
  const read = await db.$transaction(async (tx) => {
    const rowsRead = async () => {
      const [row] = await tx.$queryRaw<[{ rows: number }]>`
        SELECT sum(seq_tup_read + coalesce(idx_tup_fetch, 0))::float AS rows FROM pg_stat_xact_user_tables`
      return row.rows
    }
    const before = await rowsRead()
    await closeEnded(tx, run)
    return (await rowsRead()) - before
  })
  expect(open).toBeGreaterThan(100)
  expect(read).toBeLessThan(100 * open)
})
