import { expect, test } from 'vitest'
import { newId } from '../../server/ids.ts'
import { freeWindowsView, visitPage, visitView } from '../../server/visits/schema.ts'
import { buildTestApp } from '../build/app.ts'
import { buildCustomer } from '../build/customer.ts'
import { buildProperty } from '../build/property.ts'
import { buildRequest } from '../build/request.ts'
import { buildTechnician, buildVisit } from '../build/visit.ts'

const { base, ctx, person, rung } = await buildTestApp()
const office = await person('office')
const version = (number: number) => ({ 'if-match': `"${number}"` })
const post = (url: string, payload?: object, seen?: number, by = office) =>
  by.call('POST', `/api/v1/visits${url}`, {
    ...(payload && { payload }),
    ...(seen !== undefined && { headers: version(seen) }),
  })

const WINDOW = { day: '2026-06-03', windowStart: '09:00', windowEnd: '11:00' }
async function wish(more: object = {}) {
  const home = await buildProperty(ctx)
  const technician = await buildTechnician(ctx)
  return { propertyId: home.id, customerId: home.customerId, technicianId: technician.id, ...WINDOW, ...more }
}
const messagesOf = (visitId: string) =>
  base.db.message.findMany({ where: { visitId }, orderBy: { createdAt: 'asc' } })
const kindsOf = async (visitId: string) => (await messagesOf(visitId)).map((each) => each.kind)

test('a visit is booked in the wall time of the home, and the customer is told', async () => {
  const body = await wish({ startsAt: '09:30', lengthMinutes: 90, note: 'Ring twice.' })
  const answer = await post('', body)
  expect(answer.statusCode, answer.body).toBe(201)
  // New York, daylight time: UTC−4.
  const visit = visitView.parse(answer.json())
  expect(visit).toMatchObject({
    state: 'booked',
    windowStartsAt: '2026-06-03T13:00:00.000Z',
    windowEndsAt: '2026-06-03T15:00:00.000Z',
    startsAt: '2026-06-03T13:30:00.000Z',
    endsAt: '2026-06-03T15:00:00.000Z',
    sequence: 0,
    version: 1,
  })
  const [message] = await messagesOf(visit.id)
  expect(message).toMatchObject({ kind: 'visit-booked', category: 'booking', state: 'planned' })
  expect(message!.context).toMatchObject({ visitId: visit.id, sequence: 0, calendarMethod: 'REQUEST' })
  expect(rung.at(-1)).toEqual({ name: 'send-message', payload: { messageId: message!.id } })
  const audited = await base.db.auditEntry.findFirst({ where: { subjectId: visit.id } })
  expect(audited).toMatchObject({ action: 'visit.book', actorId: office.id })
})

test('a customer without e-mail is booked without a message', async () => {
  const silent = await buildCustomer(ctx, { email: null })
  const home = await buildProperty(ctx, { parties: [{ customerId: silent.id, role: 'owner' }] })
  const visit = await buildVisit(ctx, { propertyId: home.id, customerId: silent.id })
  expect(await messagesOf(visit.id)).toEqual([])
  const calendar = await office.call('GET', `/api/v1/visits/${visit.id}/calendar.ics`)
  expect(calendar.statusCode).toBe(409)
})

test.each([
  ['the same time', {}, 409],
  ['a part of it', { windowStart: '09:30', windowEnd: '10:00' }, 409],
  ['right after it', { windowStart: '10:00', windowEnd: '12:00' }, 201],
  ['right before it', { windowStart: '08:00', windowEnd: '09:00' }, 201],
])('a technician who is somewhere else: %s', async (_what, more, status) => {
  const technician = await buildTechnician(ctx, 'Bo Lind')
  const home = await buildProperty(ctx, { line1: '14 Quay Lane' })
  await buildVisit(ctx, {
    ...WINDOW,
    propertyId: home.id,
    customerId: home.customerId,
    technicianId: technician.id,
  })
  const answer = await post('', await wish({ ...more, technicianId: technician.id, lengthMinutes: 60 }))
  expect(answer.statusCode, answer.body).toBe(status)
  if (status !== 409) return
  expect(answer.json()).toMatchObject({
    type: '/problems/technician-busy',
    conflict: { line1: '14 Quay Lane' },
  })
  expect(answer.json().detail).toContain(
    'Bo Lind is at 14 Quay Lane from 9:00 AM to 10:00 AM on Wednesday, June 3, 2026.',
  )
})

test('of ten who book one technician at once, one gets the time', async () => {
  const technician = await buildTechnician(ctx)
  const home = await buildProperty(ctx)
  const body = { propertyId: home.id, customerId: home.customerId, technicianId: technician.id, ...WINDOW }
  const answers = await Promise.all(Array.from({ length: 10 }, () => post('', body)))
  const statuses = answers.map((each) => each.statusCode).sort()
  expect(statuses).toEqual([201, ...Array(9).fill(409)])
  expect(await base.db.message.count({ where: { propertyId: home.id } })).toBe(1)
})

test('the same id again, even at once, is the same visit', async () => {
  const body = { ...(await wish()), id: newId() }
  const answers = await Promise.all([post('', body), post('', body)])
  expect(answers.map((each) => each.statusCode)).toEqual([201, 201])
  expect(await kindsOf(body.id)).toEqual(['visit-booked'])
})

test('booking a request takes what it says; cancelling lets it wait again', async () => {
  const request = await buildRequest(ctx, { kind: 'repair' })
  const technician = await buildTechnician(ctx)
  const body = { requestId: request.id, technicianId: technician.id, ...WINDOW }
  const visit = (await post('', body)).json()
  expect(visit).toMatchObject({ kind: 'repair', propertyId: request.propertyId, lengthMinutes: 90 })
  const state = async () => (await office.call('GET', `/api/v1/requests/${request.id}`)).json()
  expect(await state()).toMatchObject({ state: 'booked', visitId: visit.id })
  const twice = await post('', { ...body, day: '2026-06-04' })
  expect(twice.statusCode).toBe(409)
  expect(twice.json().detail).toBe('A visit is booked for it: Bo Lind on June 3, 2026 at 9:00 AM.')
  await post(`/${visit.id}/cancel`, { reason: 'Customer ill' })
  expect(await state()).toMatchObject({ state: 'waiting', visitId: null })
})

test('without a length the size and age of the home decide', async () => {
  const spaces = ['bedroom', 'bedroom', 'bedroom', 'kitchen'].map((kind) => ({ kind }))
  const home = await buildProperty(ctx, { yearBuilt: 1950, spaces })
  const technician = await buildTechnician(ctx)
  const answer = await post('', {
    propertyId: home.id,
    customerId: home.customerId,
    technicianId: technician.id,
    ...WINDOW,
  })
  // Own default: 60 + 20 for each of three bedrooms + 30 for forty years and more.
  expect(answer.json().lengthMinutes).toBe(150)
})

test('a move tells the customer with a higher sequence; nobody is told of another technician or a note', async () => {
  const visit = (await post('', await wish())).json()
  const other = await buildTechnician(ctx, 'Cy Marsh')
  await ctx.db.visit.update({ where: { id: visit.id }, data: { confirmedAt: new Date() } })
  const moved = await post(
    `/${visit.id}/move`,
    { day: '2026-06-05', windowStart: '13:00', windowEnd: '15:00' },
    1,
  )
  expect(moved.statusCode, moved.body).toBe(200)
  expect(moved.json()).toMatchObject({ sequence: 1, version: 2, startsAt: '2026-06-05T17:00:00.000Z' })
  // Nobody has said yet that they will be at home then.
  expect(moved.json().confirmedAt).toBeNull()
  const reassigned = await post(`/${visit.id}/reassign`, { technicianId: other.id }, 2)
  expect(reassigned.json()).toMatchObject({
    sequence: 1,
    technicianName: 'Cy Marsh',
    startsAt: '2026-06-05T17:00:00.000Z',
  })
  const noted = await office.call('PATCH', `/api/v1/visits/${visit.id}`, {
    payload: { note: 'Dog.' },
    headers: version(3),
  })
  expect(noted.json()).toMatchObject({ sequence: 1, note: 'Dog.', version: 4 })
  const later = await post(
    `/${visit.id}/move`,
    { day: '2026-06-05', windowStart: '13:00', windowEnd: '15:00', startsAt: '14:00' },
    4,
  )
  expect(later.json()).toMatchObject({ sequence: 1, startsAt: '2026-06-05T18:00:00.000Z' })
  expect(await kindsOf(visit.id)).toEqual(['visit-booked', 'visit-moved'])
  const [, message] = await messagesOf(visit.id)
  expect(message!.context).toMatchObject({ previousStartsAt: '2026-06-03T13:00:00.000Z', sequence: 1 })
})

test('a stale version is told both, and a move onto another visit says where', async () => {
  const technician = await buildTechnician(ctx, 'Di North')
  const first = await buildVisit(ctx, { ...WINDOW, technicianId: technician.id })
  const second = await buildVisit(ctx, { ...WINDOW, day: '2026-06-04', technicianId: technician.id })
  const move = (seen: number) => post(`/${second.id}/move`, WINDOW, seen)
  expect((await move(7)).json()).toMatchObject({ status: 412, seen: 7, current: { version: 1 } })
  const busy = await move(1)
  expect(busy.statusCode).toBe(409)
  expect(busy.json().conflict.visitId).toBe(first.id)
  const longer = await office.call('PATCH', `/api/v1/visits/${first.id}`, {
    payload: { lengthMinutes: 120 },
    headers: version(1),
  })
  expect(longer.json()).toMatchObject({ lengthMinutes: 120, endsAt: '2026-06-03T15:00:00.000Z', sequence: 0 })
  expect((await office.call('GET', `/api/v1/visits/${second.id}`)).json()).toMatchObject({
    version: 1,
    sequence: 0,
  })
})

test('a cancelled visit tells why, frees the technician, and stays cancelled', async () => {
  const technician = await buildTechnician(ctx)
  const visit = await buildVisit(ctx, { ...WINDOW, technicianId: technician.id })
  const cancel = () => post(`/${visit.id}/cancel`, { reason: 'Customer ill' })
  expect((await cancel()).json()).toMatchObject({
    state: 'cancelled',
    closedReason: 'Customer ill',
    sequence: 1,
  })
  expect((await cancel()).json()).toMatchObject({ sequence: 1, version: 2 })
  expect(await kindsOf(visit.id)).toEqual(['visit-booked', 'visit-cancelled'])
  await buildVisit(ctx, { ...WINDOW, technicianId: technician.id })
  const moved = await post(`/${visit.id}/move`, WINDOW, 2)
  expect(moved.statusCode).toBe(409)
  expect(moved.json().detail).toBe('The visit is cancelled; book a new one.')
})

test('a technician sets off, arrives and finishes; each step counts once and in order', async () => {
  const technician = await person('technician')
  const visit = await buildVisit(ctx, { technicianId: technician.id })
  const step = (name: string) => post(`/${visit.id}/${name}`, undefined, undefined, technician)
  const early = await step('finish')
  expect(early.statusCode).toBe(409)
  expect(early.json().detail).toBe('You can finish only while a visit is on site; this one is booked.')
  expect((await step('start-travel')).json()).toMatchObject({
    state: 'travelling',
    travelStartedAt: '2026-06-01T15:00:00.000Z',
  })
  expect((await step('start-travel')).json()).toMatchObject({ state: 'travelling', version: 2 })
  expect(
    (await post(`/${visit.id}/reassign`, { technicianId: (await buildTechnician(ctx)).id }, 2)).statusCode,
  ).toBe(409)
  expect((await step('arrive')).json()).toMatchObject({
    state: 'on-site',
    arrivedAt: '2026-06-01T15:00:00.000Z',
  })
  expect((await post(`/${visit.id}/cancel`, { reason: 'x' })).statusCode).toBe(409)
  expect((await step('finish')).json()).toMatchObject({
    state: 'finished',
    finishedAt: '2026-06-01T15:00:00.000Z',
  })
  const actions = await base.db.auditEntry.findMany({
    where: { subjectId: visit.id },
    orderBy: { id: 'asc' },
  })
  expect(actions.map((each) => each.action)).toEqual([
    'visit.book',
    'visit.start-travel',
    'visit.arrive',
    'visit.finish',
  ])
})

test('of two who take the same step at once, one entry is written', async () => {
  const visit = await buildVisit(ctx)
  const answers = await Promise.all([1, 2, 3].map(() => post(`/${visit.id}/arrive`)))
  expect(answers.map((each) => each.statusCode).filter((status) => status !== 200 && status !== 409)).toEqual(
    [],
  )
  expect(await base.db.auditEntry.count({ where: { subjectId: visit.id, action: 'visit.arrive' } })).toBe(1)
})

test('nobody at home: the customer is told, and the request waits again', async () => {
  const technician = await person('technician')
  const request = await buildRequest(ctx)
  const visit = await buildVisit(ctx, { requestId: request.id, technicianId: technician.id })
  const answer = await post(`/${visit.id}/no-access`, { reason: 'Gate locked' }, undefined, technician)
  expect(answer.json()).toMatchObject({ state: 'no-access', closedReason: 'Gate locked', sequence: 0 })
  expect(await kindsOf(visit.id)).toEqual(['visit-booked', 'visit-no-access'])
  expect((await office.call('GET', `/api/v1/requests/${request.id}`)).json().state).toBe('waiting')
})

test("a technician's visits are their own: lists, reading, steps, export", async () => {
  const [mine, other] = [await person('technician'), await person('technician')]
  const visit = await buildVisit(ctx, { technicianId: mine.id })
  const theirs = await buildVisit(ctx, { technicianId: other.id })
  const page = (await mine.call('GET', '/api/v1/visits')).json()
  expect(page.items.map((each: { id: string }) => each.id)).toEqual([visit.id])
  expect((await mine.call('GET', `/api/v1/visits?technicianId=${other.id}`)).json().items).toEqual([])
  expect((await mine.call('GET', `/api/v1/visits/${theirs.id}`)).statusCode).toBe(403)
  expect((await post(`/${theirs.id}/arrive`, undefined, undefined, mine)).statusCode).toBe(403)
  expect((await post('', {}, undefined, mine)).statusCode).toBe(403)
  const csv = await mine.call('GET', '/api/v1/visits/export.csv')
  expect(csv.body).toContain(visit.id)
  expect(csv.body).not.toContain(theirs.id)
})

test('visits are listed by day, technician and state, in order, each once', async () => {
  const technician = await buildTechnician(ctx)
  const days = ['2026-08-03', '2026-08-04', '2026-08-05', '2026-08-06']
  const made: { id: string }[] = []
  for (const day of days) made.push(await buildVisit(ctx, { day, technicianId: technician.id }))
  await post(`/${made[1]!.id}/cancel`, { reason: 'x' })
  const found = async (query: string) =>
    visitPage
      .parse((await office.call('GET', `/api/v1/visits?technicianId=${technician.id}&${query}`)).json())
      .items.map((each) => made.findIndex((visit) => visit.id === each.id))
  expect(await found('')).toEqual([0, 1, 2, 3])
  expect(await found('order=latest')).toEqual([3, 2, 1, 0])
  expect(await found('from=2026-08-04&to=2026-08-05')).toEqual([1, 2])
  expect(await found('state=cancelled')).toEqual([1])
  const first = (await office.call('GET', `/api/v1/visits?technicianId=${technician.id}&limit=3`)).json()
  expect(await found(`limit=3&cursor=${first.next}`)).toEqual([3])
})

test('visits are found by who, where and id, in spite of slips', async () => {
  const owner = await buildCustomer(ctx, { name: 'Gudrun Okafor', phone: '555-333-0199' })
  const home = await buildProperty(ctx, {
    line1: '52 Copper Beech',
    parties: [{ customerId: owner.id, role: 'owner' }],
  })
  const visit = await buildVisit(ctx, { propertyId: home.id, customerId: owner.id })
  for (const q of ['okafor', 'Okafro', '52 copper beech', 'coper beech', '(555) 333-0199', visit.id]) {
    const answer = await office.call('GET', `/api/v1/visits?q=${encodeURIComponent(q)}`)
    expect(
      answer.json().items.map((each: { id: string }) => each.id),
      q,
    ).toEqual([visit.id])
  }
})

test('the export gives wall times of the home', async () => {
  const visit = await buildVisit(ctx, { day: '2026-09-01' })
  const answer = await office.call('GET', '/api/v1/visits/export.csv?from=2026-09-01&to=2026-09-01')
  const [, row] = answer.body.trim().split('\r\n')
  expect(row).toBe(
    `2026-09-01,09:00,11:00,09:00,60,America/New_York,inspection,booked,${visit.technicianName},${visit.customerName},` +
      `${visit.customerPhone},${visit.line1},Port Ansel,00501,,${visit.id}`,
  )
})

test.each([
  ['a window that ends before it begins', { windowStart: '11:00', windowEnd: '09:00' }, '#/windowEnd'],
  ['a start outside its window', { startsAt: '12:00' }, '#/startsAt'],
  ['a time that is over', { day: '2026-05-31' }, '#/day'],
  ['a day that there is not', { day: '2026-02-30' }, '#/day'],
  ['a year of nobody', { day: '9999-01-01' }, '#/day'],
  ['a time that there is not', { windowStart: '24:00' }, '#/windowStart'],
  ['a length of nothing', { lengthMinutes: 0 }, '#/lengthMinutes'],
  ['half a minute', { lengthMinutes: 30.5 }, '#/lengthMinutes'],
  ['an unknown technician', { technicianId: '01900000-0000-7000-8000-000000000000' }, '#/technicianId'],
  ['an unknown home', { propertyId: '01900000-0000-7000-8000-000000000000' }, '#/propertyId'],
  ['an unknown request', { requestId: '01900000-0000-7000-8000-000000000000' }, '#/requestId'],
  ['an unknown kind', { kind: 'party' }, '#/kind'],
  ['a zero byte', { note: 'a\0b' }, '#/note'],
  ['an unknown field', { price: 7 }, '#/'],
])('a booking with %s is refused', async (_what, more, pointer) => {
  const answer = await post('', await wish(more))
  expect(answer.statusCode, answer.body).toBe(400)
  expect(answer.json().errors.map((each: { pointer: string }) => each.pointer)).toContain(pointer)
})

test('a technician who has left is not booked, nor is an office person', async () => {
  const gone = await buildTechnician(ctx)
  await base.db.user.update({ where: { id: gone.id }, data: { disabledAt: new Date() } })
  for (const technicianId of [gone.id, office.id]) {
    const answer = await post('', await wish({ technicianId }))
    expect(answer.json().errors).toEqual([
      { pointer: '#/technicianId', detail: 'there is no technician of that id at work' },
    ])
  }
})

test('in the hour that a clock change leaves out, the times are the ones RFC 5545 §3.3.5 gives', async () => {
  // New York, 2027-03-14 02:30 does not exist: the offset before the gap counts, 07:30Z.
  const answer = await post('', await wish({ day: '2027-03-14', windowStart: '02:30', windowEnd: '04:30' }))
  expect(answer.json()).toMatchObject({
    windowStartsAt: '2027-03-14T07:30:00.000Z',
    windowEndsAt: '2027-03-14T08:30:00.000Z',
  })
})

test('free windows leave out who is taken, the weekend, and what is over', async () => {
  await base.db.user.updateMany({ where: { role: 'technician' }, data: { disabledAt: new Date() } })
  const [ann, ben] = [await buildTechnician(ctx, 'Ann'), await buildTechnician(ctx, 'Ben')]
  const home = await buildProperty(ctx)
  const at = (technicianId: string, windowStart: string, windowEnd: string, lengthMinutes: number) =>
    buildVisit(ctx, { day: '2026-10-02', technicianId, windowStart, windowEnd, lengthMinutes })
  await at(ann.id, '08:00', '09:00', 75)
  await at(ben.id, '08:00', '09:00', 540)
  const ask = async (query: string) => {
    const answer = await office.call('GET', `/api/v1/visits/free-windows?propertyId=${home.id}&${query}`)
    expect(answer.statusCode, answer.body).toBe(200)
    return freeWindowsView.parse(answer.json())
  }
  // 2026-10-02 is a Friday.
  const { windows } = await ask('from=2026-10-02&days=4&length=120')
  const shown = windows.map(
    (each) =>
      `${each.day} ${each.windowStart} ${each.technicians.map((t) => `${t.name} ${t.startsAt}`).join(', ')}`,
  )
  expect(shown).toEqual([
    '2026-10-02 08:00 Ann 09:15',
    '2026-10-02 10:00 Ann 10:00',
    '2026-10-02 13:00 Ann 13:00',
    '2026-10-02 15:00 Ann 15:00',
    '2026-10-05 08:00 Ann 08:00, Ben 08:00',
    '2026-10-05 10:00 Ann 10:00, Ben 10:00',
    '2026-10-05 13:00 Ann 13:00, Ben 13:00',
    '2026-10-05 15:00 Ann 15:00, Ben 15:00',
  ])
  // Now is 11:00 on 2026-06-01: the windows of the morning are over but for the last hour.
  const today = await ask('from=2026-06-01&days=1&length=60')
  expect(today.windows.map((each) => [each.windowStart, each.technicians[0]!.startsAt])).toEqual([
    ['10:00', '11:00'],
    ['13:00', '13:00'],
    ['15:00', '15:00'],
  ])
  // Nobody begins what cannot end in working hours.
  expect((await ask('from=2026-10-05&days=1&length=600')).windows.map((each) => each.windowStart)).toEqual([
    '08:00',
  ])
})
