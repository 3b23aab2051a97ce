import { beforeEach, describe, expect, test } from 'vitest'
import { day } from '../../trade/dates.ts'
import type { Equipment } from '../../trade/equipment.ts'
import { notify } from '../../server/follow-ups/notify.ts'
import { forecast } from '../../server/follow-up-policy/forecast-store.ts'
import { planDue } from '../../server/follow-ups/plan.ts'
import { redateDevices } from '../../server/follow-ups/redate.ts'
import { planEverything } from '../../server/follow-ups/service.ts'
import { newId } from '../../server/ids.ts'
import { linkUrl } from '../../server/links/service.ts'
import { policyWith } from '../../trade/follow-ups/policy.ts'
import { gatherFacts } from '../../server/messages/facts.ts'
import { getCompany } from '../../server/settings/store.ts'
import { buildTestApp } from '../build/app.ts'
import { buildAlarm, buildHousehold, type Household, storeEquipment } from '../build/follow-up.ts'
import { buildLink } from '../build/link.ts'

// What people enter wrong, and what changes under the feet of the follow-ups: a clear answer, nothing lost.

const { app, ctx, clock, person } = await buildTestApp()
const { db } = ctx
const office = await person('office')
const admin = await person('admin')

beforeEach(() => clock.set('2026-06-01T15:00:00Z'))

const device = (home: Household, more: object) => {
  const plain = { spaceId: null, parentId: null, manufacturedOn: null, installedOn: null, retiredOn: null }
  return storeEquipment(ctx, home, { id: newId(), ...plain, ...more } as unknown as Equipment)
}
const openAt = ({ propertyId }: Household) =>
  db.followUp.findMany({ where: { propertyId, closedAt: null }, orderBy: { kind: 'asc' } })

describe('a device dated in the future', () => {
  test('is refused at the door, naming each date that is still to come', async () => {
    const home = await buildHousehold(ctx)
    const add = (more: object) =>
      office.call('POST', `/api/v1/properties/${home.propertyId}/equipment`, {
        payload: { kind: 'alarm', label: 'Hall alarm', ...more },
      })
    const answer = await add({ manufacturedOn: '2062-01-15', installedOn: '2026-06-02' })
    expect(answer.statusCode).toBe(400)
    expect(answer.json().errors).toEqual([
      {
        pointer: '#/manufacturedOn',
        detail: 'it cannot have been made on January 15, 2062, a day still to come; read the date again',
      },
      {
        pointer: '#/installedOn',
        detail: 'it cannot have been installed on June 2, 2026, a day still to come; read the date again',
      },
    ])
    expect(await db.equipment.count({ where: { propertyId: home.propertyId } })).toBe(0)
    const { id, version } = (await add({ manufacturedOn: '2026-06-01' })).json()
    const change = await office.call('PATCH', `/api/v1/equipment/${id}`, {
      payload: { kind: 'alarm', lastCheckedOn: '2026-06-02' },
      headers: { 'if-match': `"${version}"` },
    })
    expect([change.statusCode, change.json().errors[0].pointer]).toEqual([400, '#/lastCheckedOn'])
  })
})

describe('two people with one e-mail address', () => {
  test('each gets a letter about their own home, with a page of their own; one may say no for themselves', async () => {
    const email = `shared-${newId()}@example.com`
    const [one, two] = [
      await buildHousehold(ctx, { email, name: 'Ida Fern', line1: '1 Lock Street' }),
      await buildHousehold(ctx, { email, name: 'Jon Fern', line1: '2 Mill Street' }),
    ]
    for (const home of [one, two]) await buildAlarm(ctx, home, day('2026-06-20'))
    await planDue(ctx, db, {})
    await db.messagePreference.create({
      data: {
        customerId: two.customerId,
        category: 'about-surge',
        allowed: false,
        source: 'preferences-page',
      },
    })
    await notify(ctx)
    const messages = await db.message.findMany({ where: { toAddress: email } })
    expect(messages.map(({ customerId }) => customerId).sort()).toEqual(
      [one.customerId, two.customerId].sort(),
    )
    const facts = await gatherFacts(ctx, messages as never, await getCompany(db))
    for (const [home, mine, other] of [
      [one, '1 Lock Street', '2 Mill Street'],
      [two, '2 Mill Street', '1 Lock Street'],
    ] as const) {
      const { id } = messages.find(({ customerId }) => customerId === home.customerId)!
      const letter = JSON.stringify(facts.get(id))
      expect(letter).toContain(mine)
      expect(letter).not.toContain(other)
      const page = await app.inject({ method: 'GET', url: new URL(linkUrl(ctx.env, id)).pathname })
      expect(page.body).toContain(mine)
      expect(page.body).not.toContain(other)
    }
  })
})

describe('a home that was sold', () => {
  test('the old owner’s page closes and no letter goes to them; the new owner hears of an inspection', async () => {
    const home = await buildHousehold(ctx, { lastInspectedOn: day('2022-03-01') })
    await buildAlarm(ctx, home, day('2026-06-20'))
    await planDue(ctx, db, { propertyId: home.propertyId })
    const page = await buildLink(ctx, home)
    const buyer = await buildHousehold(ctx, { name: 'Ida Fern' })
    const answer = await office.call('PUT', `/api/v1/properties/${home.propertyId}/parties`, {
      payload: {
        parties: [{ customerId: buyer.customerId, role: 'owner', isContact: true }],
        soldOn: '2026-05-20',
      },
      headers: { 'if-match': '"1"' },
    })
    expect(answer.statusCode, answer.body).toBe(200)
    const closed = await app.inject({ method: 'GET', url: page })
    expect([closed.statusCode, closed.body.includes('We closed this page')]).toEqual([410, true])
    await notify(ctx)
    expect(await db.message.count({ where: { customerId: home.customerId } })).toBe(0)
    expect(await db.message.count({ where: { customerId: buyer.customerId } })).toBe(1)
    // Handbook: the sale of a home is a trigger, from its own day.
    const sold = await db.followUp.findFirst({
      where: { propertyId: home.propertyId, kind: 're-inspection' },
    })
    expect(sold).toMatchObject({ dueOn: new Date('2026-05-20') })
  })
})

describe('intervals changed in the policy', () => {
  const change = async (changes: object) => {
    const { version } = (await admin.call('GET', '/api/v1/follow-up-policy')).json()
    const payload = { changes, confirmMessages: 1_000_000 }
    const headers = { 'if-match': `"${version}"` }
    const answer = await admin.call('PUT', '/api/v1/follow-up-policy', { headers, payload })
    expect(answer.statusCode, answer.body).toBe(200)
  }

  test('dates on record follow with the next plan, what is open moves; what somebody noticed stays', async () => {
    await redateDevices(ctx)
    const home = await buildHousehold(ctx)
    const wanted = {
      customerId: home.customerId,
      category: 'tips',
      allowed: true,
      source: 'preferences-page',
    }
    await db.messagePreference.create({ data: { ...wanted, changedAt: clock.now } })
    const alarm = { kind: 'alarm', label: 'Hall', manufacturedOn: '2024-01-10' }
    const battery = { senses: 'smoke', power: 'battery', batteryChangedOn: '2025-05-15' }
    const alarmId = await device(home, { ...alarm, details: battery })
    const protector = { kind: 'surge-protector', label: 'Panel', installedOn: '2024-05-01' }
    const lit = { ...protector, lastCheckedOn: '2025-06-20', details: { indicator: 'good' } }
    const protectorId = await device(home, lit)
    const darkId = await device(home, { ...lit, label: 'Shed', details: { indicator: 'dark' } })
    await planEverything(ctx)
    const due = async () =>
      Object.fromEntries(
        (await openAt(home)).map(({ kind, dueOn }) => [kind, dueOn.toISOString().slice(0, 10)]),
      )
    expect(await due()).toMatchObject({ 'alarm-battery': '2026-05-15', 'surge-check': '2026-06-20' })
    const before = await db.equipment.findUniqueOrThrow({ where: { id: darkId } })

    await change({ batteryMonths: 6, surge: { checkMonths: 9 } })
    await planEverything(ctx)
    // Half a year on from the last change, nine months on from the last look.
    expect(await due()).toMatchObject({ 'alarm-battery': '2025-11-15', 'surge-check': '2026-03-20' })
    expect(await db.equipment.findUniqueOrThrow({ where: { id: darkId } })).toMatchObject({
      replaceBy: before.replaceBy,
      version: before.version,
    })
    expect(await redateDevices(ctx)).toBe(0)

    await change({})
    await planEverything(ctx)
    expect(await due()).toMatchObject({ 'alarm-battery': '2026-05-15', 'surge-check': '2026-06-20' })
    const ids = { id: { in: [alarmId, protectorId] } }
    expect((await db.equipment.findMany({ where: ids })).map(({ version }) => version)).toEqual([1, 1])
  })

  test.each([
    ['a shorter life', { surge: { lifeYears: 3 } }],
    ['a longer life', { surge: { lifeYears: 14 } }],
    ['earlier looks', { surge: { checkMonths: 9 } }],
    ['later looks, a shorter life', { surge: { checkMonths: 30, lifeYears: 2 } }],
    ['fresher batteries', { batteryMonths: 6 }],
    ['older batteries', { batteryMonths: 40 }],
  ])('%s: what the forecast says moves, opens and ends is what the engine then does', async (_, changes) => {
    await db.property.updateMany({ data: { archivedAt: clock.now } })
    await db.company.update({ where: { id: 1 }, data: { policy: {} } })
    await redateDevices(ctx)
    const home = await buildHousehold(ctx)
    const word = { customerId: home.customerId, category: 'tips', allowed: true, source: 'office' }
    await db.messagePreference.create({ data: word })
    for (const installedOn of ['2015-03-01', '2016-06-10', '2020-02-29', '2023-07-01', '2026-02-01', null]) {
      for (const lastCheckedOn of ['2024-01-31', '2025-06-20', '2026-05-20', null]) {
        for (const lifeYears of [undefined, 5]) {
          const details = { indicator: 'good', ...(lifeYears && { lifeYears }) }
          await device(home, { kind: 'surge-protector', label: 'Panel', installedOn, lastCheckedOn, details })
        }
        const alarm = { kind: 'alarm', label: 'Hall', manufacturedOn: '2018-01-10' }
        for (const more of [{}, { buttonTest: 'silent' }, { batteryChangedOn: '2025-05-15' }]) {
          const details = { senses: 'smoke', power: 'battery', ...more }
          await device(home, { ...alarm, installedOn, lastCheckedOn, details })
        }
      }
    }
    await planEverything(ctx)
    const when = { now: clock.now, today: day('2026-06-01'), until: day('2026-06-30') }
    const said = await forecast(db, policyWith(changes), when, true)
    const { moved, opened } = (
      await admin.call('POST', '/api/v1/follow-up-policy/preview', { payload: { changes } })
    ).json()
    await db.company.update({ where: { id: 1 }, data: { policy: changes } })
    await redateDevices(ctx)
    const done = await planDue(ctx, db, {})
    expect({ planned: said.moved + said.opened, ended: said.ended }).toEqual({
      planned: done.opened,
      ended: done.ended,
    })
    expect(moved + opened).toBe(done.opened)
    expect(done.opened + done.ended).toBeGreaterThan(0)
  })
})

describe('reminders chosen by what they are about', () => {
  test('no more about alarms, everything else goes on; wanted again, they come back', async () => {
    const home = await buildHousehold(ctx, { lastInspectedOn: day('2016-06-10') })
    await buildAlarm(ctx, home, day('2026-06-20'))
    await planDue(ctx, db, { propertyId: home.propertyId })
    const page = `${await buildLink(ctx, home)}/preferences`
    const save = async (topics: readonly string[]) => {
      const { body } = await app.inject({ method: 'GET', url: page })
      const fields = new URLSearchParams({
        form: /name="form" value="([^"]+)"/.exec(body)![1]!,
        reminder: 'yes',
      })
      for (const topic of topics) fields.append('topic', topic)
      const headers = { 'content-type': 'application/x-www-form-urlencoded' }
      const answer = await app.inject({ method: 'POST', url: page, headers, payload: fields.toString() })
      expect(answer.statusCode, answer.body).toBe(303)
    }
    const others = ['about-surge', 'about-inspections', 'about-findings', 'about-estimates']
    await save(others)
    await notify(ctx, { propertyId: home.propertyId })
    const states = async () =>
      Object.fromEntries(
        (await db.followUp.findMany({ where: { propertyId: home.propertyId } })).map(({ kind, state }) => [
          kind,
          state,
        ]),
      )
    expect(await states()).toEqual({ 'alarm-end-of-life': 'dismissed', 're-inspection': 'told' })
    // The planner does not open again what they said no to.
    await planDue(ctx, db, { propertyId: home.propertyId })
    expect(await states()).toEqual({ 'alarm-end-of-life': 'dismissed', 're-inspection': 'told' })
    await save([...others, 'about-alarms'])
    expect(await states()).toMatchObject({ 'alarm-end-of-life': 'planned' })
    const words = await db.messagePreference.findMany({ where: { customerId: home.customerId } })
    expect(words.map(({ category, allowed }) => [category, allowed]).sort()).toEqual([
      ['about-alarms', true],
      ['reminder', true],
      ['tips', false],
    ])
  })
})
