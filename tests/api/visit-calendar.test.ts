import ICAL from 'ical.js'
import { expect, test } from 'vitest'
import { visitCalendar, type InvitedVisit } from '../../server/visits/calendar.ts'
import { buildTestApp } from '../build/app.ts'
import { buildCustomer } from '../build/customer.ts'
import { buildProperty } from '../build/property.ts'
import { buildVisit } from '../build/visit.ts'

// Read back by ical.js, which shares no code with the generator.

const { base, ctx, clock, person } = await buildTestApp()
const office = await person('office')

const VISIT: InvitedVisit = {
  id: '01900000-0000-7000-8000-000000000001',
  sequence: 0,
  isCancelled: false,
  windowStartsAt: new Date('2026-07-01T13:00:00Z'),
  windowEndsAt: new Date('2026-07-01T15:00:00Z'),
  timeZone: 'America/New_York',
  summary: 'Inspection: Kestrel Row Electric',
  description: 'We arrive between these times.',
  address: '14 Quay Lane, Port Ansel',
  company: { name: 'Kestrel Row Electric', email: 'office@example.com' },
  customer: { name: 'Ana Reyes', email: 'ana@example.com' },
  host: 'office.example.com',
  at: new Date('2026-06-01T15:00:00Z'),
}

function read(text: string) {
  const calendar = new ICAL.Component(ICAL.parse(text))
  const component = calendar.getFirstSubcomponent('vevent')!
  const zones = calendar.getAllSubcomponents('vtimezone')
  for (const zone of zones) ICAL.TimezoneService.register(zone)
  const event = new ICAL.Event(component)
  return {
    method: calendar.getFirstPropertyValue('method'),
    zones: zones.map((zone) => zone.getFirstPropertyValue('tzid')),
    uid: event.uid,
    sequence: event.sequence,
    status: component.getFirstPropertyValue('status'),
    stamp: String(component.getFirstPropertyValue('dtstamp')),
    start: event.startDate,
    end: event.endDate,
    event,
    component,
  }
}

/** Lines as they stand, before unfolding. */
const physicalLines = (text: string) => text.split('\r\n')
const octets = (line: string) => Buffer.byteLength(line)

test('an invitation says when in the wall time of the home, with the rules of its zone', () => {
  const { method, text } = visitCalendar(VISIT)
  const invitation = read(text)
  expect(method).toBe('REQUEST')
  expect(invitation).toMatchObject({
    method: 'REQUEST',
    sequence: 0,
    status: 'CONFIRMED',
    zones: ['America/New_York'],
  })
  expect(invitation.uid).toBe(`visit-${VISIT.id}@office.example.com`)
  expect(text).toContain('DTSTART;TZID=America/New_York:20260701T090000\r\n')
  expect(invitation.start.toJSDate().toISOString()).toBe('2026-07-01T13:00:00.000Z')
  expect(invitation.end.toJSDate().toISOString()).toBe('2026-07-01T15:00:00.000Z')
  expect(invitation.component.getFirstPropertyValue('organizer')).toBe('mailto:office@example.com')
  expect(String(invitation.component.getFirstPropertyValue('attendee')).toLowerCase()).toBe(
    'mailto:ana@example.com',
  )
})

test.each([
  ['America/New_York', '2026-01-15T14:00:00Z', '20260115T090000'],
  ['America/Phoenix', '2026-07-01T16:00:00Z', '20260701T090000'],
  ['America/Los_Angeles', '2026-07-02T06:30:00Z', '20260701T233000'],
  ['US/Eastern', '2026-07-01T13:00:00Z', '20260701T090000'],
  ['america/chicago', '2026-07-01T14:00:00Z', '20260701T090000'],
])(
  'in %s the instant %s is written as %s, whatever the clock of the machine',
  (timeZone, starts, written) => {
    const windowStartsAt = new Date(starts)
    const windowEndsAt = new Date(windowStartsAt.getTime() + 7_200_000)
    const { text } = visitCalendar({ ...VISIT, timeZone, windowStartsAt, windowEndsAt })
    expect(text).toContain(`DTSTART;TZID=${timeZone}:${written}\r\n`)
    const invitation = read(text)
    expect(invitation.zones).toEqual([timeZone])
    expect(invitation.start.toJSDate()).toEqual(windowStartsAt)
  },
)

// RFC 5545 §3.3.11, case IC6: backslash, semicolon, comma and newline are escaped, a colon is not.
test('text is escaped as RFC 5545 §3.3.11 asks, and reads back as it was', () => {
  const { text } = visitCalendar({ ...VISIT, description: 'A;B,C\\D\n', summary: 'At: home' })
  expect(text).toContain('DESCRIPTION:A\\;B\\,C\\\\D\\n')
  expect(text).toContain('SUMMARY:At: home')
  expect(read(text).event.description).toBe('A;B,C\\D\n')
})

// RFC 5545 §3.1: 75 octets without the line break, never inside a UTF-8 sequence.
test.each([
  ['letters', 'x'.repeat(300)],
  ['accents', 'é'.repeat(200)],
  ['an edge: 74 letters and an accent', `${'x'.repeat(74 - 'DESCRIPTION:'.length)}éé`],
  ['pictures', '👩‍🔧🔌'.repeat(40)],
])('lines are folded at 75 octets: %s', (_what, description) => {
  const { text } = visitCalendar({ ...VISIT, description, address: description })
  expect(Math.max(...physicalLines(text).map(octets))).toBeLessThanOrEqual(75)
  expect(text).not.toContain('\uFFFD')
  expect(text.replaceAll('\r\n', '')).not.toContain('\n')
  expect(read(text).event.description).toBe(description)
})

test('a name with quotes or line breaks cannot add to the invitation', () => {
  const name = 'Ana "Pepa"\r\nATTENDEE:mailto:eve@example.com'
  const { text } = visitCalendar({ ...VISIT, customer: { name, email: 'ana@example.com' } })
  const attendees = read(text).component.getAllProperties('attendee')
  expect(attendees).toHaveLength(1)
  expect(attendees[0]!.getParameter('cn')).toContain("Ana 'Pepa'")
})

// RFC 5546 §2.1.4, case IC3: invite 0, time change 1, note 1 with a new stamp, cancel 2; the same UID throughout.
test('the sequence rises with what the customer is told, under one UID for life', async () => {
  const customer = await buildCustomer(ctx, { name: 'Ana Reyes', email: 'ana@example.com' })
  const home = await buildProperty(ctx, { parties: [{ customerId: customer.id, role: 'owner' }] })
  const visit = await buildVisit(ctx, { propertyId: home.id, customerId: customer.id })
  const url = `/api/v1/visits/${visit.id}`
  const shown = async () => {
    const answer = await office.call('GET', `${url}/calendar.ics`)
    expect(answer.statusCode).toBe(200)
    const { method, sequence, status, uid, stamp } = read(answer.body)
    expect(answer.headers['content-type']).toBe(`text/calendar; charset=utf-8; method=${method}`)
    return { method, sequence, status, uid, stamp }
  }
  const uid = `visit-${visit.id}@localhost`
  expect(await shown()).toMatchObject({ method: 'REQUEST', sequence: 0, uid })
  const move = { day: '2026-06-04', windowStart: '13:00', windowEnd: '15:00' }
  await office.call('POST', `${url}/move`, { payload: move, headers: { 'if-match': '"1"' } })
  expect(await shown()).toMatchObject({ sequence: 1, uid, stamp: '2026-06-01T15:00:00Z' })
  clock.set('2026-06-01T16:00:00Z')
  await office.call('PATCH', url, { payload: { note: 'Ring twice.' }, headers: { 'if-match': '"2"' } })
  expect(await shown()).toMatchObject({ sequence: 1, uid, stamp: '2026-06-01T16:00:00Z' })
  await office.call('POST', `${url}/cancel`, { payload: { reason: 'Ill' } })
  expect(await shown()).toMatchObject({ method: 'CANCEL', sequence: 2, status: 'CANCELLED', uid })

  const messages = await base.db.message.findMany({
    where: { visitId: visit.id },
    orderBy: { createdAt: 'asc' },
  })
  const sent = messages.map((each) => read((each.context as { calendar: string }).calendar))
  expect(sent.map((each) => [each.method, each.sequence])).toEqual([
    ['REQUEST', 0],
    ['REQUEST', 1],
    ['CANCEL', 2],
  ])
  expect(new Set(sent.map((each) => each.uid))).toEqual(new Set([uid]))
})
