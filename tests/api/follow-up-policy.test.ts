import { beforeEach, describe, expect, test } from 'vitest'
import { day } from '../../trade/dates.ts'
import { notify } from '../../server/follow-ups/notify.ts'
import { planDue } from '../../server/follow-ups/plan.ts'
import { forecast } from '../../server/follow-up-policy/forecast-store.ts'
import { DEFAULT_POLICY, type PolicyChanges, policyWith } from '../../trade/follow-ups/policy.ts'
import { buildTestApp } from '../build/app.ts'
import { buildAlarm, buildFinding, buildHousehold, buildVisit } from '../build/follow-up.ts'

const { ctx, clock, person, nobody } = await buildTestApp()
const { db } = ctx
const admin = await person('admin', 'Ada Finch')
const office = await person('office')
const technician = await person('technician')
const URL = '/api/v1/follow-up-policy'
const TODAY = day('2026-06-01')
const steps = (...days: number[]) => ({ steps: days.map((each) => ({ days: each, by: ['mail'] })) })
const EARLIER = { 'alarm-end-of-life': { steps: [{ days: -200, by: ['mail'] }] } }

beforeEach(async () => {
  clock.set('2026-06-01T15:00:00Z')
  await db.property.updateMany({ data: { archivedAt: clock.now } })
  await planDue(ctx, db, {})
  await db.company.update({ where: { id: 1 }, data: { policy: {} } })
})

const save = async (changes: object, more: object = {}) => {
  const { version } = (await admin.call('GET', URL)).json()
  return admin.call('PUT', URL, { headers: { 'if-match': `"${version}"` }, payload: { changes, ...more } })
}
const preview = async (changes: object) =>
  (await admin.call('POST', `${URL}/preview`, { payload: { changes } })).json()

test('the policy in full, what is the company’s own of it, and who changed it', async () => {
  const saved = await save({ cap: { messages: 2 }, batteryMonths: 6 })
  expect(saved.statusCode).toBe(200)
  expect(saved.json()).toMatchObject({
    policy: { cap: { messages: 2, days: 7 }, batteryMonths: 6, tipsMonths: 3 },
    changes: { cap: { messages: 2 }, batteryMonths: 6 },
    defaults: { cap: { messages: 1, days: 7 }, batteryMonths: 12 },
  })
  const view = (await office.call('GET', URL)).json()
  expect(view.history[0]).toMatchObject({
    by: 'Ada Finch',
    after: { batteryMonths: 6, cap: { messages: 2 } },
  })
  expect(view.kinds).toHaveLength(14)
})

test('only the admin changes it; a stale version and a missing one are told apart', async () => {
  expect((await nobody('GET', URL)).statusCode).toBe(401)
  expect((await technician.call('GET', URL)).statusCode).toBe(403)
  expect((await office.call('POST', `${URL}/preview`, { payload: { changes: {} } })).statusCode).toBe(403)
  expect((await admin.call('PUT', URL, { payload: { changes: {} } })).statusCode).toBe(428)
  const stale = await admin.call('PUT', URL, { headers: { 'if-match': '"1"' }, payload: { changes: {} } })
  expect([stale.statusCode, stale.json().type]).toEqual([412, '/problems/changed-meanwhile'])
})

test.each([
  [{ cap: { messages: 0 } }, '#/changes/cap/messages'],
  [{ cap: { messages: 1, weeks: 2 } }, '#/changes/cap'],
  [{ sendingHours: { from: '20:00', to: '08:00' } }, '#/changes/sendingHours/to'],
  [{ sendingHours: { from: '8', to: '20:00' } }, '#/changes/sendingHours/from'],
  [{ cadences: { 'alarm-end-of-life': { steps: [] } } }, '#/changes/cadences/alarm-end-of-life/steps'],
  [{ cadences: { 'alarm-at-noon': { steps: [{ days: 0, by: ['mail'] }] } } }, '#/changes/cadences'],
  [
    {
      cadences: {
        'surge-check': {
          steps: [
            { days: 0, by: ['mail'] },
            { days: 0, by: ['call'] },
          ],
        },
      },
    },
    '#/changes/cadences/surge-check',
  ],
  [
    {
      cadences: {
        'surge-check': { steps: [{ days: 0, by: ['mail'] }], then: { every: 1, unit: 'days', by: ['mail'] } },
      },
    },
    '#/changes/cadences/surge-check',
  ],
  [{ spam: true }, '#/changes'],
])('%j is refused where it is wrong', async (changes, pointer) => {
  const answer = await save(changes)
  expect(answer.statusCode).toBe(400)
  expect(answer.json().errors[0].pointer).toContain(pointer)
  expect((await db.company.findUniqueOrThrow({ where: { id: 1 } })).policy).toEqual({})
})

describe('before it is saved', () => {
  test('what moves, opens, ends, and what goes out at once and this month; nothing is written', async () => {
    const home = await buildHousehold(ctx)
    // 180 days ahead: silent by the 90 days of the default, told at once by 200.
    await buildAlarm(ctx, home, day('2026-11-28'))
    const other = await buildHousehold(ctx)
    await buildFinding(ctx, other, { severity: 'repair', foundOn: day('2026-05-18') })
    await planDue(ctx, db, {})
    const before = await db.followUp.count({ where: { closedAt: null } })
    expect(before).toBe(1)
    const shown = await preview({ cadences: EARLIER, finding: { repairDays: 20 } })
    expect(shown).toMatchObject({
      // Due on 15 June by 28 days, on 7 June by 20.
      moved: 1,
      opened: 1,
      ended: 0,
      atOnce: { before: 1, after: 2 },
      // By 28 days the finding speaks on 1 and 12 June; by 20, on 1 and 4 June, which the cap makes one.
      thisMonth: { before: 2, after: 2 },
      confirm: null,
    })
    expect(shown.atOnceByKind).toHaveLength(2)
    expect(await db.followUp.count({ where: { closedAt: null } })).toBe(before)
    expect(await db.message.count({ where: { propertyId: home.propertyId } })).toBe(0)
  })

  test('what it says goes out at once is what the worker then writes', async () => {
    const homes = await Promise.all(Array.from({ length: 6 }, () => buildHousehold(ctx)))
    await buildHousehold(ctx, { customerId: homes[0]!.customerId }).then((home) =>
      buildAlarm(ctx, home, day('2026-11-20')),
    )
    const silent = await buildHousehold(ctx, { email: null })
    const refuser = await buildHousehold(ctx)
    await db.messagePreference.create({
      data: { customerId: refuser.customerId, category: 'reminder', allowed: false, source: 'unsubscribe' },
    })
    for (const home of [...homes, silent, refuser]) await buildAlarm(ctx, home, day('2026-11-25'))
    const { atOnce } = await preview({ cadences: EARLIER })
    await save({ cadences: EARLIER })
    await planDue(ctx, db, {})
    const { messageIds } = await notify(ctx)
    expect([atOnce.after, messageIds.length]).toEqual([6, 6])
  })

  describe('what it says moves, opens, ends and goes out is what the engine then does', () => {
    const at = (iso: string) => new Date(iso)
    const say = (customerId: string, category: string, allowed: boolean) =>
      db.messagePreference.create({
        data: { customerId, category, allowed, source: 'office', changedAt: at('2026-03-01T15:00:00Z') },
      })
    /** Households in every state that holds mail back, some of them told before under the policy that held. */
    async function manyHouseholds() {
      const build = (more = {}) => buildHousehold(ctx, more)
      const dues = ['2026-05-20', '2026-06-04', '2026-06-28', '2026-08-25', '2026-10-20', '2026-11-25']
      const each = async (
        more: object,
        then: (home: Awaited<ReturnType<typeof build>>) => Promise<unknown>,
      ) => {
        for (const due of dues) {
          const home = await build(more)
          await buildAlarm(ctx, home, day(due))
          await then(home)
        }
      }
      await each({}, async () => {})
      await each({ email: null }, async () => {})
      await each({}, ({ customerId }) => say(customerId, 'reminder', false))
      await each({}, ({ customerId }) => say(customerId, 'about-alarms', false))
      await each({}, ({ customerId }) => say(customerId, 'about-surge', false))
      await each({}, (home) => buildVisit(ctx, home, at('2026-06-24T14:00:00Z')))
      await each({}, ({ propertyId }) =>
        db.propertyParty.updateMany({ where: { propertyId }, data: { until: at('2026-05-01') } }),
      )
      await each({}, async ({ customerId }) => {
        const { email } = await db.customer.findUniqueOrThrow({ where: { id: customerId } })
        await db.suppressedAddress.create({ data: { email: email!, reason: 'bounced', detail: '' } })
      })
      await each({}, ({ customerId }) =>
        db.customer.update({ where: { id: customerId }, data: { archivedAt: clock.now } }),
      )
      // A danger and something to repair at one home are two letters; two homes of one person are one.
      const two = await build()
      await buildFinding(ctx, two, { severity: 'unsafe', foundOn: day('2026-06-01') })
      await buildFinding(ctx, two, { severity: 'repair', foundOn: day('2026-05-18') })
      await buildAlarm(ctx, await build({ customerId: two.customerId }), day('2026-11-25'))
      // Nobody switched off hazards by switching off findings; what is to be repaired, they did.
      const off = await build()
      await say(off.customerId, 'about-findings', false)
      await buildFinding(ctx, off, { severity: 'unsafe', foundOn: day('2026-06-01') })
      await buildFinding(ctx, off, { severity: 'repair', foundOn: day('2026-05-18') })
      // A visit to come is reminded of, whatever else is wished.
      await buildVisit(ctx, await build(), at('2026-06-03T14:00:00Z'), {
        createdAt: at('2026-05-01T14:00:00Z'),
      })
    }

    test.each([
      ['earlier', { cadences: EARLIER }],
      ['one notice more', { cadences: { 'alarm-end-of-life': steps(-90, -45, 0, 10, 60) } }],
      ['later', { cadences: { 'alarm-end-of-life': steps(-7, 0) } }],
      ['fewer days to repair, a wider cap', { finding: { repairDays: 15 }, cap: { messages: 3, days: 7 } }],
    ])(
      '%s',
      async (_, changes) => {
        clock.set('2026-05-02T15:00:00Z')
        await manyHouseholds()
        // The planner of the database expects one row of each table otherwise, and takes its time.
        await db.$executeRaw`ANALYZE`
        for (const iso of ['2026-05-02T15:00:00Z', '2026-05-20T15:00:00Z', '2026-05-28T15:00:00Z']) {
          clock.set(iso)
          await planDue(ctx, db, {})
          await notify(ctx)
        }
        // Some change their minds after they were told, and some wish to be left alone for a while.
        const open = await db.followUp.findMany({
          where: { closedAt: null, state: 'told' },
          orderBy: { id: 'asc' },
        })
        for (const [n, { id }] of open.entries()) {
          if (n % 4 === 0)
            await db.followUp.update({ where: { id }, data: { snoozedUntil: new Date('2026-06-01') } })
          if (n % 4 === 1)
            await db.followUp.update({ where: { id }, data: { snoozedUntil: new Date('2026-06-20') } })
        }
        clock.set('2026-06-01T15:00:00Z')
        const when = { now: clock.now, today: TODAY, until: day('2026-06-30') }
        const said = await forecast(db, policyWith(changes as PolicyChanges), when)
        expect((await save(changes, { confirmMessages: said.atOnce })).statusCode).toBe(200)
        const { opened, ended } = await planDue(ctx, db, {})
        const { messageIds } = await notify(ctx)
        expect({
          planned: said.moved + said.opened,
          ended: said.ended,
          atOnce: said.atOnce,
        }).toEqual({ planned: opened, ended, atOnce: messageIds.length })

        // The month is an upper bound: what comes along in another message needs none of its own.
        let sent = messageIds.length
        for (let date = 2; date <= 30; date++) {
          clock.set(`2026-06-${String(date).padStart(2, '0')}T15:00:00Z`)
          await planDue(ctx, db, {})
          sent += (await notify(ctx)).messageIds.length
        }
        expect(sent).toBeLessThanOrEqual(said.thisMonth)
        expect(said.thisMonth).toBeLessThanOrEqual(sent * 1.25 + 1)
      },
      40_000,
    )
  })

  test('the same policy changes nothing, whatever has been told already', async () => {
    for (const due of ['2026-06-03', '2026-07-01', '2026-08-30', '2026-05-01']) {
      await buildAlarm(ctx, await buildHousehold(ctx), day(due))
    }
    await planDue(ctx, db, {})
    await notify(ctx)
    const when = { now: clock.now, today: TODAY, until: day('2026-06-30') }
    const { moved, opened, ended, atOnce } = await forecast(db, DEFAULT_POLICY, when)
    expect({ moved, opened, ended, atOnce }).toEqual({ moved: 0, opened: 0, ended: 0, atOnce: 0 })
  })
})

test('a policy that speaks later forgets nothing that was opened by the one before', async () => {
  const home = await buildHousehold(ctx)
  await buildAlarm(ctx, home, day('2026-08-25'))
  await planDue(ctx, db, {})
  await notify(ctx)
  await save({ cadences: { 'alarm-end-of-life': steps(-7, 0) } })
  const stepsBy = async (iso: string) => {
    clock.set(iso)
    await planDue(ctx, db, {})
    await notify(ctx)
    const told = await db.messageFollowUp.findMany({
      where: { message: { customerId: home.customerId } },
      orderBy: { message: { createdAt: 'asc' } },
    })
    return told.map(({ step }) => step)
  }
  expect(await stepsBy('2026-06-02T15:00:00Z')).toEqual(['-90'])
  expect(await stepsBy('2026-07-30T15:00:00Z')).toEqual(['-90'])
  expect(await stepsBy('2026-08-18T15:00:00Z')).toEqual(['-90', '-7'])
})

test('a notice that a new policy puts between two others is given to those who were told the first', async () => {
  const home = await buildHousehold(ctx)
  await buildAlarm(ctx, home, day('2026-08-25'))
  await planDue(ctx, db, {})
  await notify(ctx)
  await save({ cadences: { 'alarm-end-of-life': steps(-90, -60, 0) } })
  for (const iso of ['2026-06-02T15:00:00Z', '2026-06-26T15:00:00Z']) {
    clock.set(iso)
    await planDue(ctx, db, {})
    await notify(ctx)
  }
  const told = await db.messageFollowUp.findMany({ where: { message: { customerId: home.customerId } } })
  expect(told.map(({ step }) => step).sort()).toEqual(['-60', '-90'])
})

test('a policy that would write to many at once is refused until their number is said back', async () => {
  await db.$executeRaw`INSERT INTO customer (id, kind, name, email, address_lines)
    SELECT md5('many' || n)::uuid, 'person', 'Customer ' || n, 'many-' || n || '@example.com', '{}' FROM generate_series(1, 150) n`
  await db.$executeRaw`INSERT INTO property (id, line1, city, region, postcode, time_zone, fuels)
    SELECT md5('many' || n)::uuid, n || ' Sea Street', 'Port Ansel', 'NY', '12990', 'America/New_York', '{}' FROM generate_series(1, 150) n`
  await db.$executeRaw`INSERT INTO property_party (property_id, customer_id, role, is_contact)
    SELECT md5('many' || n)::uuid, md5('many' || n)::uuid, 'owner', true FROM generate_series(1, 150) n`
  await db.$executeRaw`INSERT INTO equipment (id, property_id, kind, label, details, manufactured_on, replace_by)
    SELECT md5('many' || n)::uuid, md5('many' || n)::uuid, 'alarm', 'Hall', '{"senses": "smoke"}', '2016-11-25', '2026-11-25'
      FROM generate_series(1, 150) n`
  expect(await preview({ cadences: EARLIER })).toMatchObject({
    confirm: 150,
    atOnce: { before: 0, after: 150 },
  })
  const refused = await save({ cadences: EARLIER })
  expect(refused.statusCode).toBe(409)
  expect(refused.json()).toMatchObject({
    type: '/problems/confirm-messages',
    confirm: 150,
    detail: expect.stringContaining('about 150 messages go out with the next round instead of 0'),
    atOnceByKind: [{ kind: 'alarm-end-of-life', followUps: 150 }],
  })
  for (const other of [0, 130, 40_000]) {
    expect((await save({ cadences: EARLIER }, { confirmMessages: other })).statusCode).toBe(409)
  }
  expect((await db.company.findUniqueOrThrow({ where: { id: 1 } })).policy).toEqual({})
  expect((await save({ cadences: EARLIER }, { confirmMessages: 150 })).statusCode).toBe(200)
  expect(policyWith({}).cap.days).toBe(7)
}, 30_000)

test('two simulated years tell, by month and at the worst, what a change would send, and what stays promised', async () => {
  for (let n = 0; n < 3; n++) await buildHousehold(ctx)
  const often = {
    cap: { messages: 3, days: 7 },
    tipsMonths: 1,
    reinspection: { ownerYears: 1, rentedYears: 1 },
  }
  const { simulated } = await preview(often)
  expect(simulated.months.length).toBeGreaterThanOrEqual(24)
  expect(simulated.months.map(({ month }: { month: string }) => month)).toEqual(
    [...simulated.months.map(({ month }: { month: string }) => month)].sort(),
  )
  const sum = (when: 'before' | 'after') =>
    simulated.months.reduce(
      (total: number, month: { before: number; after: number }) => total + month[when],
      0,
    )
  expect(sum('before')).toBeGreaterThan(0)
  expect(sum('after')).toBeGreaterThan(sum('before'))
  expect(simulated.householdIn7Days.before).toBe(1)
  expect(simulated.householdIn7Days.after).toBeGreaterThan(1)
  expect(simulated.householdInAYear.after).toBeGreaterThan(simulated.householdInAYear.before)
  expect(simulated.busiestDay.after.on).toMatch(/^202[678]-/)
  expect(simulated.promises.length).toBeGreaterThan(4)
  for (const promise of simulated.promises) expect(promise).toMatchObject({ before: 0, after: 0 })
})
