import { beforeEach, describe, expect, test } from 'vitest'
import { day } from '../../trade/dates.ts'
import type { BookingPlan, PlannedStop } from '../../server/follow-ups/booking-schema.ts'
import { notify } from '../../server/follow-ups/notify.ts'
import { planDue } from '../../server/follow-ups/plan.ts'
import type { FollowUpSummary, WorklistGroup, WorklistNumbers } from '../../server/follow-ups/schema.ts'
import { newId } from '../../server/ids.ts'
import { buildTestApp } from '../build/app.ts'
import { buildAlarm, buildFinding, buildHousehold, buildTechnician, buildVisit } from '../build/follow-up.ts'

const { ctx, clock, person, rung } = await buildTestApp()
const { db } = ctx
const office = await person('office', 'Sam Brook')
const URL = '/api/v1/follow-ups'

beforeEach(() => {
  // A Monday, late in the morning at the homes.
  clock.set('2026-06-01T15:00:00Z')
  rung.length = 0
})

const get = async <Answer>(path: string): Promise<Answer> => {
  const answer = await office.call('GET', `${URL}${path}`)
  expect(answer.statusCode, answer.body).toBe(200)
  return answer.json()
}
const town = () => `Port ${newId().slice(-8)}`

async function dueAt(
  city: string,
  line1: string,
  more: Parameters<typeof buildHousehold>[1] = {},
  due = '2026-06-10',
) {
  const home = await buildHousehold(ctx, { city, line1, email: null, ...more })
  await buildAlarm(ctx, home, day(due))
  await planDue(ctx, db, { propertyId: home.propertyId })
  const { id } = await db.followUp.findFirstOrThrow({ where: { propertyId: home.propertyId } })
  return { ...home, id, line1 }
}

describe('what is due, added up', () => {
  test('by street: those with something overdue first, then those with most homes; a press shows exactly these', async () => {
    const city = town()
    await dueAt(city, '7 Gull Row')
    await dueAt(city, '9B Gull Row')
    await dueAt(city, '12-14 gull row')
    await dueAt(city, '1 Old Gull Row')
    await dueAt(city, '3 Pier Road', {}, '2026-05-20')
    const groups = await get<WorklistGroup[]>(`/groups?by=street&city=${city}`)
    expect(groups.map(({ key, homes, overdue }) => [key.toLowerCase(), homes, overdue])).toEqual([
      ['pier road', 1, 1],
      ['gull row', 3, 0],
      ['old gull row', 1, 0],
    ])
    const { items } = await get<{ items: FollowUpSummary[] }>(`?onStreet=GULL%20ROW&city=${city}`)
    expect(items.map(({ line1 }) => line1).sort()).toEqual(['12-14 gull row', '7 Gull Row', '9B Gull Row'])
  })

  test('by week: before this week in one, then week by week; the counts are those of the list', async () => {
    const city = town()
    // 2026-06-01 is a Monday.
    for (const [line1, due] of [
      ['1 Quay', '2026-04-20'],
      ['2 Quay', '2026-05-31'],
      ['3 Quay', '2026-06-01'],
      ['4 Quay', '2026-06-07'],
      ['5 Quay', '2026-06-08'],
    ] as const)
      await dueAt(city, line1, {}, due)
    const groups = await get<WorklistGroup[]>(`/groups?by=week&city=${city}`)
    expect(groups.map(({ key, homes, overdue }) => [key, homes, overdue])).toEqual([
      ['earlier', 2, 2],
      ['2026-06-01', 2, 0],
      ['2026-06-08', 1, 0],
    ])
    for (const { key, followUps } of groups) {
      const { items } = await get<{ items: FollowUpSummary[] }>(`?week=${key}&city=${city}`)
      expect(items).toHaveLength(followUps)
    }
    expect((await office.call('GET', `${URL}/groups?by=month`)).statusCode).toBe(400)
    expect((await office.call('GET', `${URL}?week=later`)).statusCode).toBe(400)
  })

  test('each figure on top is a filter that shows exactly what it counts', async () => {
    const city = town()
    const [told, gone] = [
      await dueAt(city, '1 Lock Street', { email: `told-${newId()}@example.com` }, '2026-06-20'),
      await dueAt(city, '2 Lock Street', { email: `gone-${newId()}@example.com` }, '2026-06-20'),
    ]
    const booked = await dueAt(city, '3 Lock Street')
    await buildVisit(ctx, booked, new Date('2026-06-09T14:00:00Z'))
    const over = await dueAt(city, '4 Lock Street')
    await planDue(ctx, db, {})
    const { email } = await db.customer.findUniqueOrThrow({ where: { id: gone.customerId } })
    await db.suppressedAddress.create({ data: { email: email!, reason: 'bounced' } })
    await notify(ctx)
    clock.set('2026-06-13T15:00:00Z')
    await notify(ctx)
    const of = { where: { customerId: told.customerId } }
    await db.message.updateMany({ ...of, data: { state: 'sent', sentAt: clock.now } })
    await office.call('POST', `${URL}/${over.id}/done`, { payload: { reason: 'Replaced by the owner' } })
    const numbers = await get<WorklistNumbers>('/numbers')
    for (const [only, count] of [
      ['month', numbers.dueThisMonth],
      ['answered', numbers.answered],
      ['booked', numbers.booked],
      ['ignored', numbers.ignoredTwice],
      ['bounced', numbers.bounced],
    ] as const) {
      const { items } = await get<{ items: FollowUpSummary[] }>(`?only=${only}&limit=200`)
      expect(items.length, only).toBe(count)
      expect(count, only).toBeGreaterThan(0)
    }
    const homes = async (only: string) =>
      (await get<{ items: FollowUpSummary[] }>(`?only=${only}&city=${city}`)).items.map(({ line1 }) => line1)
    expect(await homes('booked')).toEqual(['3 Lock Street'])
    expect(await homes('ignored')).toEqual(['1 Lock Street'])
    expect(await homes('bounced')).toEqual(['2 Lock Street'])
    expect((await homes('answered')).sort()).toEqual(['3 Lock Street', '4 Lock Street'])
    expect(await homes('month')).toHaveLength(4)
  })
})

describe('one trip for several homes', () => {
  const plan = (payload: object) => office.call('POST', `${URL}/booking-plan`, { payload })
  const book = (payload: object) => office.call('POST', `${URL}/bulk-booking`, { payload })
  const toBook = (stops: readonly PlannedStop[]) =>
    stops.map(({ propertyId, customerId, kind, windowStart, windowEnd, startsAt, lengthMinutes }) => ({
      ...{ id: newId(), propertyId, customerId, kind, windowStart, windowEnd, startsAt, lengthMinutes },
    }))
  const minutes = (time: string) => Number(time.slice(0, 2)) * 60 + Number(time.slice(3))

  test('windows follow one another in the order of the street; who cannot be booked is told why', async () => {
    const city = town()
    const technicianId = await buildTechnician(ctx, 'Jo Marsh')
    const homes = [
      await dueAt(city, '12 Gull Row'),
      await dueAt(city, '4 Gull Row'),
      await dueAt(city, '8 Gull Row'),
    ]
    const busy = await dueAt(city, '6 Gull Row')
    await buildVisit(ctx, busy, new Date('2026-06-05T14:00:00Z'))
    const nobody = await dueAt(city, '10 Gull Row')
    await db.propertyParty.deleteMany({ where: { propertyId: nobody.propertyId } })
    const ids = [...homes, busy, nobody].map(({ id }) => id)
    const unknown = newId()
    const answer = await plan({ ids: [...ids, unknown], technicianId, day: '2026-06-03' })
    const { stops, left, technicianName } = answer.json<BookingPlan>()
    expect(technicianName).toBe('Jo Marsh')
    expect(left).toEqual([{ id: unknown, why: 'There is no such follow-up.' }])
    expect(stops.map(({ line1 }) => line1)).toEqual([
      '4 Gull Row',
      '6 Gull Row',
      '8 Gull Row',
      '10 Gull Row',
      '12 Gull Row',
    ])
    expect(stops[1]!.conflict).toContain('goes there on June 5, 2026 at 10:00 AM already')
    expect(stops[3]!.conflict).toContain('Nobody is named for this home')
    const free = stops.filter(({ conflict }) => conflict === null)
    expect(free[0]).toMatchObject({ windowStart: '08:00', windowEnd: '10:00', startsAt: '08:00' })
    for (const [n, stop] of free.entries()) {
      const starts = minutes(stop.startsAt!)
      expect(starts).toBeGreaterThanOrEqual(minutes(stop.windowStart!))
      expect(starts).toBeLessThanOrEqual(minutes(stop.windowEnd!))
      const before = free[n - 1]
      if (before) expect(starts).toBeGreaterThanOrEqual(minutes(before.startsAt!) + before.lengthMinutes)
    }
    expect(await db.visit.count({ where: { technicianId } })).toBe(0)
  })

  test('all are booked in one go, with a letter each; pressed twice, booked once', async () => {
    const city = town()
    const technicianId = await buildTechnician(ctx)
    const homes = [
      await dueAt(city, '1 Gull Row', { email: `one-${newId()}@example.com` }),
      await dueAt(city, '2 Gull Row', { name: 'Ida Fern' }),
    ]
    const ids = homes.map(({ id }) => id)
    const { stops } = (await plan({ ids, technicianId, day: '2026-06-03' })).json<BookingPlan>()
    const order = { technicianId, day: '2026-06-03', visits: toBook(stops) }
    const answer = await book(order)
    expect(answer.statusCode, answer.body).toBe(201)
    expect(answer.json().visits.map(({ line1 }: { line1: string }) => line1)).toEqual([
      '1 Gull Row',
      '2 Gull Row',
    ])
    expect(answer.json().toPhone).toEqual(['Ida Fern, 2 Gull Row'])
    expect(rung.filter(({ name }) => name === 'send-message')).toHaveLength(1)
    expect((await book(order)).json().toPhone).toEqual([])
    expect(await db.visit.count({ where: { technicianId } })).toBe(2)
    const states = await db.followUp.findMany({ where: { id: { in: ids } } })
    expect(states.map(({ state }) => state)).toEqual(['booked', 'booked'])
  })

  test('one clash, and nothing is half booked: which home, and who is in the way', async () => {
    const city = town()
    const technicianId = await buildTechnician(ctx, 'Jo Marsh')
    const homes = [await dueAt(city, '1 Gull Row'), await dueAt(city, '2 Gull Row')]
    const ids = homes.map(({ id }) => id)
    const { stops } = (await plan({ ids, technicianId, day: '2026-06-03' })).json<BookingPlan>()
    const last = stops[1]!
    const elsewhere = await buildHousehold(ctx, { line1: '40 Mill Street' })
    const [hour, minute] = last.startsAt!.split(':').map(Number)
    // New York is four hours behind UTC in June.
    const at = new Date(Date.UTC(2026, 5, 3, hour! + 4, minute))
    const visitId = await buildVisit(ctx, elsewhere, at, { technicianId })
    const answer = await book({ technicianId, day: '2026-06-03', visits: toBook(stops) })
    expect(answer.statusCode).toBe(409)
    expect(answer.json()).toMatchObject({
      type: '/problems/technician-busy',
      propertyId: last.propertyId,
      conflict: { visitId },
    })
    expect(answer.json().detail).toMatch(
      /^2 Gull Row: Jo Marsh is at 40 Mill Street .* Nothing was booked\.$/,
    )
    expect(
      await db.visit.count({ where: { propertyId: { in: homes.map(({ propertyId }) => propertyId) } } }),
    ).toBe(0)
    expect(
      await db.message.count({ where: { propertyId: stops[0]!.propertyId, kind: 'visit-booked' } }),
    ).toBe(0)
    expect(rung).toEqual([])
    // The next plan goes around it.
    const again = (await plan({ ids, technicianId, day: '2026-06-03' })).json<BookingPlan>()
    expect(again.stops[1]!.startsAt).not.toBe(last.startsAt)
    // A home that was given a visit since is not visited twice.
    await buildVisit(ctx, homes[0]!, new Date('2026-06-08T14:00:00Z'))
    const late = await book({ technicianId, day: '2026-06-03', visits: toBook(again.stops) })
    expect([late.statusCode, late.json().detail]).toEqual([
      409,
      '1 Gull Row: A visit was booked there meanwhile. Nothing was booked.',
    ])
  })

  test('bad input is answered in words', async () => {
    const city = town()
    const technicianId = await buildTechnician(ctx, 'Jo Marsh')
    const { id } = await dueAt(city, '1 Gull Row')
    expect((await plan({ ids: [id], technicianId: newId(), day: '2026-06-03' })).statusCode).toBe(400)
    expect((await plan({ ids: [], technicianId, day: '2026-06-03' })).statusCode).toBe(400)
    expect((await plan({ ids: [id], technicianId, day: '2026-02-30' })).statusCode).toBe(400)
    const conflict = async (on: string) =>
      (await plan({ ids: [id], technicianId, day: on })).json<BookingPlan>().stops[0]!.conflict
    expect(await conflict('2026-06-06')).toBe(
      'Saturdays and Sundays are booked by hand, one visit at a time.',
    )
    expect(await conflict('2026-05-29')).toContain('Jo Marsh has no')
    const { stops } = (await plan({ ids: [id], technicianId, day: '2026-06-03' })).json<BookingPlan>()
    const [visit] = toBook(stops)
    const twice = [visit, { ...visit, id: newId() }]
    expect((await book({ technicianId, day: '2026-06-03', visits: twice })).json().detail).toContain(
      'one home twice',
    )
    const stranger = { ...visit, customerId: newId() }
    const unknown = await book({ technicianId, day: '2026-06-03', visits: [stranger] })
    expect([unknown.statusCode, unknown.json().detail]).toEqual([
      400,
      '1 Gull Row: there is no such customer. Nothing was booked.',
    ])
  })
})

describe('calls', () => {
  const call = (id: string, payload: object) => office.call('POST', `${URL}/${id}/call`, { payload })

  test('again later: off the list until the next working day, or the day that was agreed on', async () => {
    const { id } = await dueAt(town(), '1 Gull Row')
    // A Friday: the next working day is Monday.
    clock.set('2026-06-05T15:00:00Z')
    expect((await call(id, { outcome: 'call-later' })).json()).toMatchObject({ snoozedUntil: '2026-06-08' })
    expect((await call(id, { outcome: 'call-later', again: '2026-06-12' })).json()).toMatchObject({
      snoozedUntil: '2026-06-12',
    })
    for (const again of ['2026-06-05', '2026-09-01']) {
      expect((await call(id, { outcome: 'call-later', again })).statusCode).toBe(400)
    }
  })

  test('a hazard is called about again within three days, and rests for a month at most', async () => {
    const home = await buildHousehold(ctx)
    await buildFinding(ctx, home, { severity: 'unsafe' })
    await planDue(ctx, db, { propertyId: home.propertyId })
    const { id } = await db.followUp.findFirstOrThrow({
      where: { propertyId: home.propertyId, kind: 'open-finding' },
    })
    expect((await call(id, { outcome: 'call-later', again: '2026-06-05' })).statusCode).toBe(400)
    expect((await call(id, { outcome: 'call-later', again: '2026-06-04' })).statusCode).toBe(200)
    const snooze = (until: string) => office.call('POST', `${URL}/${id}/snooze`, { payload: { until } })
    expect((await snooze('2026-07-02')).json().detail).toContain('somebody could get hurt')
    expect((await snooze('2026-07-01')).statusCode).toBe(200)
  })

  test('what to say: who, since when, what was written and what to ask', async () => {
    const home = await dueAt(
      town(),
      '1 Gull Row',
      { email: `talk-${newId()}@example.com`, name: 'Ida Fern' },
      '2026-06-20',
    )
    await notify(ctx, { propertyId: home.propertyId })
    const of = { where: { customerId: home.customerId } }
    await db.message.updateMany({
      ...of,
      data: { state: 'sent', sentAt: clock.now, subject: 'An alarm is due' },
    })
    await db.homeownerAnswer.create({
      data: {
        ...{ id: newId(), linkId: newId(), customerId: home.customerId, propertyId: home.propertyId },
        ...{
          followUpId: home.id,
          act: 'snooze',
          said: { thanks: 'snoozed', until: '2026-06-08' },
          at: clock.now,
        },
      },
    })
    const { script, answers } = await get<{ script: string[]; answers: { words: string }[] }>(`/${home.id}`)
    expect(script).toEqual([
      'Good day, this is Kestrel Row Electric. Am I speaking with Ida Fern?',
      expect.stringContaining('It is about 1 Gull Row in'),
      'We wrote to you once, last on June 1, 2026, “An alarm is due”. Did it reach you?',
      'On June 1, 2026 you answered on your page. Is that still so?',
      'Has it been replaced? If not: does it sound when you press its test button?',
      'When would a visit suit you?',
    ])
    expect(answers.map(({ words }) => words)).toEqual(['Asked not to be reminded until June 8, 2026.'])
  })
})
