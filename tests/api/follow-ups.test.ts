import { beforeEach, describe, expect, test } from 'vitest'
import { day } from '../../trade/dates.ts'
import { notify } from '../../server/follow-ups/notify.ts'
import { planDue } from '../../server/follow-ups/plan.ts'
import type { FollowUpSummary, WorklistNumbers } from '../../server/follow-ups/schema.ts'
import { newId } from '../../server/ids.ts'
import type { Page } from '../../server/paging.ts'
import { buildTestApp } from '../build/app.ts'
import { buildAlarm, buildFinding, buildHousehold, buildVisit } from '../build/follow-up.ts'

const { ctx, clock, person, nobody, rung } = await buildTestApp()
const { db } = ctx
const office = await person('office', 'Sam Brook')
const technician = await person('technician')
const URL = '/api/v1/follow-ups'

beforeEach(() => {
  clock.set('2026-06-01T15:00:00Z')
  rung.length = 0
})

async function list(query: string): Promise<Page<FollowUpSummary>> {
  const answer = await office.call('GET', `${URL}?${query}`)
  expect(answer.statusCode, answer.body).toBe(200)
  return answer.json()
}
const plan = () => planDue(ctx, db, {})
const only = (propertyId: string) => db.followUp.findFirstOrThrow({ where: { propertyId } })

describe('the worklist', () => {
  test('each open follow-up stands on one tab: due, coming, or waiting for the customer', async () => {
    const soon = await buildHousehold(ctx, { email: null, name: 'Ida Fern' })
    const later = await buildHousehold(ctx, { email: null })
    const told = await buildHousehold(ctx)
    const booked = await buildHousehold(ctx)
    await buildAlarm(ctx, soon, day('2026-05-20'), 'Cellar alarm')
    await buildAlarm(ctx, later, day('2026-08-20'))
    await buildAlarm(ctx, told, day('2026-06-20'))
    await buildAlarm(ctx, booked, day('2026-06-20'))
    await buildVisit(ctx, booked, new Date('2026-06-09T14:00:00Z'))
    await plan()
    await notify(ctx)
    const tabOf = async (propertyId: string) => {
      const tabs = []
      for (const tab of ['due', 'coming', 'waiting', 'done']) {
        const { items } = await list(`tab=${tab}&propertyId=${propertyId}`)
        if (items.length > 0) tabs.push(tab)
      }
      return tabs.join()
    }
    expect(await tabOf(soon.propertyId)).toBe('due')
    expect(await tabOf(later.propertyId)).toBe('coming')
    expect(await tabOf(told.propertyId)).toBe('waiting')
    expect(await tabOf(booked.propertyId)).toBe('coming')
    const { items } = await list(`propertyId=${soon.propertyId}`)
    expect(items[0]).toMatchObject({
      kindTitle: 'Alarm at the end of its life',
      subject: 'Cellar alarm',
      overdueDays: 12,
      customerName: 'Ida Fern',
      customerEmail: null,
      messageState: 'suppressed',
      messagesSent: 0,
      reason:
        'The alarm “Cellar alarm” should be replaced by May 20, 2026: alarms lose their sensitivity with age.',
    })
  })

  test('each says what happens next: by whom it is told, when, and why not by e-mail', async () => {
    const nextOf = async (propertyId: string) => {
      const pages = await Promise.all(
        ['due', 'coming', 'waiting'].map((tab) => list(`tab=${tab}&propertyId=${propertyId}`)),
      )
      return pages.flatMap(({ items }) => items)[0]!.next
    }
    const alarmDue = async (due: string, more = {}) => {
      const home = await buildHousehold(ctx, more)
      await buildAlarm(ctx, home, day(due))
      return home.propertyId
    }
    const [old, fresh, soon, silent] = [
      await alarmDue('2024-05-20'),
      await alarmDue('2026-06-20'),
      await alarmDue('2026-07-10'),
      await alarmDue('2026-07-10', { email: null }),
    ]
    const nobody = await alarmDue('2026-06-20')
    await db.propertyParty.deleteMany({ where: { propertyId: nobody } })
    const coming = await buildHousehold(ctx)
    await buildAlarm(ctx, coming, day('2026-06-20'))
    await buildVisit(ctx, coming, new Date('2026-06-09T14:00:00Z'))
    await plan()
    const at = { on: null, overdueWhenSeen: null }
    // Before the first round as after it: two years past its end, an alarm is beyond the letters of its cadence.
    expect(await nextOf(old)).toEqual({ how: 'call', on: null, overdueWhenSeen: 742 })
    expect(await nextOf(fresh)).toEqual({ ...at, how: 'mail' })
    await notify(ctx)
    expect(await nextOf(old)).toEqual({ how: 'call', on: null, overdueWhenSeen: 742 })
    expect(await nextOf(fresh)).toEqual({ ...at, how: 'mail', on: '2026-06-13' })
    expect(await nextOf(soon)).toEqual({ ...at, how: 'mail', on: '2026-06-10' })
    expect(await nextOf(silent)).toEqual({ ...at, how: 'call' })
    expect(await nextOf(nobody)).toEqual({ ...at, how: 'nobody' })
    expect(await nextOf(coming.propertyId)).toEqual({ ...at, how: 'booked' })
    const { id } = await only(fresh)
    await office.call('POST', `${URL}/${id}/snooze`, { payload: { until: '2026-06-12' } })
    expect(await nextOf(fresh)).toEqual({ ...at, how: 'rests', on: '2026-06-12' })
    // Reached since, and nothing left of its cadence.
    const long = await only(old)
    await office.call('POST', `${URL}/${long.id}/call`, { payload: { outcome: 'reached' } })
    expect(await nextOf(old)).toEqual({ ...at, how: 'nothing' })
  })

  test('filters by kind, town, street, week and words; typing accents is not needed', async () => {
    const city = `Puerto Ñandú ${newId().slice(-6)}`
    const home = await buildHousehold(ctx, { city, line1: '7 Gull Row', email: null, name: 'José Álamo' })
    const other = await buildHousehold(ctx, { city, line1: '9 Pier Road', email: null })
    await buildAlarm(ctx, home, day('2026-06-10'))
    await buildAlarm(ctx, other, day('2026-06-15'))
    await plan()
    const found = async (query: string) =>
      (await list(`city=${encodeURIComponent(city)}&${query}`)).items.map(({ line1 }) => line1)
    expect(await found('')).toEqual(['7 Gull Row', '9 Pier Road'])
    expect((await list(`city=${encodeURIComponent(city.replace('Ñandú', 'nandu'))}`)).items).toHaveLength(2)
    expect(await found('street=gull')).toEqual(['7 Gull Row'])
    expect(await found('week=2026-06-14')).toEqual(['7 Gull Row'])
    expect(await found('week=2026-06-15')).toEqual(['9 Pier Road'])
    expect(await found('search=jose%20alamo')).toEqual(['7 Gull Row'])
    expect(await found('search=100%25')).toEqual([])
    expect(await found('kind=surge-check')).toEqual([])
    expect(await found('kind=alarm-end-of-life')).toHaveLength(2)
  })

  test('pages one after the other without a gap or a repeat, overdue first; and as a file', async () => {
    const city = `Long Reach ${newId().slice(-6)}`
    const home = await buildHousehold(ctx, { city, email: null, name: '=1+1' })
    for (let n = 1; n <= 7; n++)
      await buildAlarm(ctx, home, day(`2026-06-${String(n * 2).padStart(2, '0')}`), `A${n}`)
    await plan()
    const seen: string[] = []
    for (let cursor: string | null = ''; cursor !== null;) {
      const page: Page<FollowUpSummary> = await list(`city=${city}&limit=3${cursor && `&cursor=${cursor}`}`)
      seen.push(...page.items.map(({ subject }) => subject))
      cursor = page.next
    }
    expect(seen).toEqual(['A1', 'A2', 'A3', 'A4', 'A5', 'A6', 'A7'])
    const csv = await office.call('GET', `${URL}/export.csv?city=${city}`)
    expect(csv.headers['content-type']).toContain('text/csv')
    const lines = csv.body.trim().split('\r\n')
    expect(lines).toHaveLength(8)
    expect(lines[1]).toContain("'=1+1")
    expect((await office.call('GET', `${URL}?cursor=nonsense`)).statusCode).toBe(400)
    expect((await office.call('GET', `${URL}?week=2026-02-30`)).statusCode).toBe(400)
  })

  test('the figures on top', async () => {
    const numbers = async () => (await office.call('GET', `${URL}/numbers`)).json<WorklistNumbers>()
    const before = await numbers()
    const ignored = await buildHousehold(ctx)
    const gone = await buildHousehold(ctx, { email: `gone-${newId()}@example.com` })
    await buildAlarm(ctx, ignored, day('2026-06-20'))
    await buildAlarm(ctx, gone, day('2026-06-21'))
    await plan()
    const { email } = await db.customer.findUniqueOrThrow({ where: { id: gone.customerId } })
    await db.suppressedAddress.create({ data: { email: email!, reason: 'bounced' } })
    await notify(ctx)
    clock.set('2026-06-13T15:00:00Z')
    await notify(ctx)
    await db.message.updateMany({
      where: { customerId: ignored.customerId },
      data: { state: 'sent', sentAt: clock.now },
    })
    const after = await numbers()
    expect(after.dueThisMonth - before.dueThisMonth).toBe(2)
    expect(after.ignoredTwice - before.ignoredTwice).toBe(1)
    const toPhone = (await office.call('GET', `${URL}?only=ignored&limit=100`)).json()
    expect(toPhone.items).toHaveLength(after.ignoredTwice)
    expect(toPhone.items.map((each: { propertyId: string }) => each.propertyId)).toContain(ignored.propertyId)
    await db.message.updateMany({ where: { customerId: ignored.customerId }, data: { actedAt: clock.now } })
    const answered = (await office.call('GET', `${URL}?only=ignored&limit=100`)).json()
    expect(answered.items).toHaveLength(before.ignoredTwice)
    expect(after.bounced - before.bounced).toBe(1)
    expect(after.answered).toBe(before.answered)
  })

  test('one follow-up with its messages, calls and what to say', async () => {
    const home = await buildHousehold(ctx, { name: 'Ida Fern' })
    await buildFinding(ctx, home, { severity: 'unsafe', text: 'Bare conductor at the panel' })
    await buildAlarm(ctx, home, day('2026-06-20'))
    await plan()
    await notify(ctx)
    const { id } = await db.followUp.findFirstOrThrow({
      where: { propertyId: home.propertyId, kind: 'open-finding' },
    })
    const view = (await office.call('GET', `${URL}/${id}`)).json()
    expect(view).toMatchObject({
      severity: 'unsafe',
      task: 'call',
      messages: [{ kind: 'unsafe-finding', step: '0' }],
    })
    expect(view.script[0]).toBe('Good day, this is Kestrel Row Electric. Am I speaking with Ida Fern?')
    expect(view.script.join(' ')).toContain('Alarm at the end of its life (Hall alarm)')
    const booking = (await office.call('GET', `${URL}/${id}/booking`)).json()
    expect(booking).toMatchObject({
      customerId: home.customerId,
      propertyId: home.propertyId,
      kind: 'repair',
      lengthMinutes: 90,
    })
    expect(booking.followUps).toHaveLength(2)
    expect((await office.call('GET', `${URL}/${newId()}`)).statusCode).toBe(404)
    expect((await office.call('GET', `${URL}/x`)).statusCode).toBe(400)
  })
})

test('what is unsafe stands there from the moment it is written down until it is put right', async () => {
  const home = await buildHousehold(ctx, { name: 'Lena Thorne', phone: '555-0161' })
  const id = await buildFinding(ctx, home, { severity: 'unsafe', text: 'Bare conductor at the panel' })
  await buildFinding(ctx, home, { severity: 'repair' })
  const here = async () =>
    (await office.call('GET', `${URL}/dangers`))
      .json()
      .filter((each: { propertyId: string }) => each.propertyId === home.propertyId)
  expect(await here()).toMatchObject([
    {
      id,
      text: 'Bare conductor at the panel',
      isOnSite: true,
      isRefused: false,
      isTold: false,
      customerName: 'Lena Thorne',
      customerPhone: '555-0161',
      technicianName: 'Jo Marsh',
    },
  ])
  await plan()
  const { id: followUpId } = await db.followUp.findFirstOrThrow({
    where: { findingId: id, kind: 'open-finding' },
  })
  await office.call('POST', `${URL}/${followUpId}/call`, { payload: { outcome: 'reached' } })
  expect(await here()).toMatchObject([{ isTold: true }])
  await db.finding.update({ where: { id }, data: { state: 'corrected' } })
  expect(await here()).toEqual([])
  expect((await technician.call('GET', `${URL}/dangers`)).statusCode).toBe(403)
})

describe('what the office does', () => {
  const alarmDue = async (more: Parameters<typeof buildHousehold>[1] = {}) => {
    const home = await buildHousehold(ctx, more)
    await buildAlarm(ctx, home, day('2026-06-20'))
    await plan()
    return { ...home, id: (await only(home.propertyId)).id }
  }

  test('dismissed with a reason, it stays away; reopened, it is back', async () => {
    const { id, propertyId } = await alarmDue()
    expect(
      (await office.call('POST', `${URL}/${id}/dismiss`, { payload: { reason: '  ' } })).statusCode,
    ).toBe(400)
    const answer = await office.call('POST', `${URL}/${id}/dismiss`, {
      payload: { reason: 'House is being pulled down' },
    })
    expect(answer.json()).toMatchObject({ state: 'dismissed', closedReason: 'House is being pulled down' })
    await plan()
    expect(await db.followUp.count({ where: { propertyId } })).toBe(1)
    expect(
      (await office.call('POST', `${URL}/${id}/dismiss`, { payload: { reason: 'again' } })).statusCode,
    ).toBe(409)
    expect((await office.call('POST', `${URL}/${id}/reopen`)).json()).toMatchObject({
      state: 'planned',
      closedReason: null,
    })
    expect((await office.call('POST', `${URL}/${id}/reopen`)).statusCode).toBe(409)
    expect(await db.auditEntry.count({ where: { subjectId: id } })).toBe(2)
  })

  test('not reopened beside one that came due again for the same thing', async () => {
    const { id, propertyId } = await alarmDue()
    await office.call('POST', `${URL}/${id}/done`, { payload: { reason: 'Replaced on the phone' } })
    await db.equipment.updateMany({ where: { propertyId }, data: { replaceBy: new Date('2026-06-25') } })
    await plan()
    const answer = await office.call('POST', `${URL}/${id}/reopen`)
    expect([answer.statusCode, answer.json().detail]).toEqual([
      409,
      'The same thing has come due again meanwhile; see to that one.',
    ])
  })

  test('snoozed until a day, not into the past and not for ever', async () => {
    const { id } = await alarmDue()
    for (const until of ['2026-06-01', '2026-05-01', '2030-01-01', 'soon']) {
      expect((await office.call('POST', `${URL}/${id}/snooze`, { payload: { until } })).statusCode).toBe(400)
    }
    const view = (
      await office.call('POST', `${URL}/${id}/snooze`, { payload: { until: '2026-07-01' } })
    ).json()
    expect(view).toMatchObject({ snoozedUntil: '2026-07-01', nextNoticeOn: '2026-07-01' })
  })

  test('a call is noted with who made it; declined, the follow-up ends, a hazard does not', async () => {
    const { id } = await alarmDue()
    const call = (of: string, payload: object) => office.call('POST', `${URL}/${of}/call`, { payload })
    expect((await call(id, { outcome: 'no-answer', note: 'Rang twice' })).json()).toMatchObject({
      state: 'planned',
      calls: [{ outcome: 'no-answer', note: 'Rang twice', by: 'Sam Brook' }],
    })
    expect((await call(id, { outcome: 'maybe' })).statusCode).toBe(400)
    expect((await call(id, { outcome: 'declined' })).json()).toMatchObject({
      state: 'dismissed',
      closedReason: 'Declined on the phone',
    })
    expect((await call(id, { outcome: 'reached' })).statusCode).toBe(409)
    const home = await buildHousehold(ctx)
    await buildFinding(ctx, home, { severity: 'unsafe' })
    await plan()
    const hazard = (await only(home.propertyId)).id
    expect((await call(hazard, { outcome: 'declined' })).json()).toMatchObject({
      closedAt: null,
      snoozedUntil: '2026-07-01',
    })
  })

  test('many at once: written to now, one message per household; what cannot be done is said', async () => {
    const home = await buildHousehold(ctx)
    await buildAlarm(ctx, home, day('2026-06-20'), 'One')
    await buildAlarm(ctx, home, day('2026-08-25'), 'Two')
    await plan()
    const silent = await alarmDue({ email: null })
    const ids = (await db.followUp.findMany({ where: { propertyId: home.propertyId } })).map(({ id }) => id)
    const unknown = newId()
    rung.length = 0
    const answer = await office.call('POST', `${URL}/bulk`, {
      payload: { action: 'message', ids: [...ids, silent.id, unknown] },
    })
    expect(answer.json()).toMatchObject({ done: 2, messages: 1 })
    expect(answer.json().left).toEqual([
      { id: unknown, why: 'There is no such follow-up.' },
      { id: silent.id, why: 'There is no e-mail address; phone them.' },
    ])
    expect(rung).toMatchObject([{ name: 'send-message' }])
    const dismissed = await office.call('POST', `${URL}/bulk`, {
      payload: { action: 'dismiss', ids, reason: 'Sold' },
    })
    expect(dismissed.json()).toMatchObject({ done: 2, left: [] })
    expect(
      (await office.call('POST', `${URL}/bulk`, { payload: { action: 'dismiss', ids } })).statusCode,
    ).toBe(400)
    const called = await office.call('POST', `${URL}/bulk`, {
      payload: { action: 'call', ids: [silent.id], outcome: 'reached' },
    })
    expect(called.json()).toMatchObject({ done: 1 })
  })
})

test('nobody without a log-in and no technician sees the customer base', async () => {
  for (const path of ['', '/numbers', '/export.csv', `/${newId()}`]) {
    expect((await nobody('GET', `${URL}${path}`)).statusCode).toBe(401)
    expect((await technician.call('GET', `${URL}${path}`)).statusCode).toBe(403)
  }
})
