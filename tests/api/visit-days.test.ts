import { expect, test } from 'vitest'
import { newId } from '../../server/ids.ts'
import { dayView, myDayView } from '../../server/visits/schema.ts'
import { buildTestApp } from '../build/app.ts'
import { buildCustomer } from '../build/customer.ts'
import { buildEquipment, buildProperty } from '../build/property.ts'
import { buildTechnician, buildVisit } from '../build/visit.ts'

const { base, ctx, person } = await buildTestApp()
const office = await person('office')

test('the day shows every technician with their visits in order, also who has none', async () => {
  const [ann, , left] = [
    await buildTechnician(ctx, 'Ann'),
    await buildTechnician(ctx, 'Ben'),
    await buildTechnician(ctx, 'Cy, who left'),
  ]
  await base.db.user.update({ where: { id: left.id }, data: { disabledAt: new Date() } })
  const late = await buildVisit(ctx, { technicianId: ann.id, windowStart: '13:00', windowEnd: '15:00' })
  const early = await buildVisit(ctx, { technicianId: ann.id })
  await buildVisit(ctx, { technicianId: ann.id, day: '2026-06-03' })
  const answer = await office.call('GET', '/api/v1/visits/day?day=2026-06-02')
  expect(answer.statusCode, answer.body).toBe(200)
  const day = dayView.strict().parse(answer.json())
  expect(day.technicians.map((each) => [each.name, each.visits.map((visit) => visit.id)])).toEqual([
    ['Ann', [early.id, late.id]],
    ['Ben', []],
  ])
  expect(day.technicians[0]!.visits[0]).toEqual({
    ...day.technicians[0]!.visits[0],
    startsAt: early.startsAt,
    endsAt: early.endsAt,
    windowStartsAt: early.windowStartsAt,
    windowEndsAt: early.windowEndsAt,
    line1: early.line1,
    customerName: early.customerName,
    state: 'booked',
    version: 1,
    inspectionId: null,
  })
})

test("the day is the company's: late in the evening in UTC it is still today", async () => {
  const technician = await buildTechnician(ctx, 'Zoe')
  // 2026-07-01 23:30 in New York is 2026-07-02 03:30Z.
  const visit = await buildVisit(ctx, {
    technicianId: technician.id,
    day: '2026-07-01',
    windowStart: '23:30',
    windowEnd: '23:59',
  })
  const on = async (day: string) => {
    const answer = dayView.parse((await office.call('GET', `/api/v1/visits/day?day=${day}`)).json())
    return answer.technicians.find((each) => each.name === 'Zoe')!.visits.map((each) => each.id)
  }
  expect(await on('2026-07-01')).toEqual([visit.id])
  expect(await on('2026-07-02')).toEqual([])
})

test("a technician's own day has the people, what is known, and what is still open", async () => {
  const technician = await person('technician')
  const [owner, tenant] = [
    await buildCustomer(ctx, { name: 'Owner' }),
    await buildCustomer(ctx, { name: 'Tenant' }),
  ]
  const home = await buildProperty(ctx, {
    accessNotes: 'Gate code on the key ring.',
    yearBuilt: 1930,
    parties: [
      { customerId: owner.id, role: 'owner' },
      { customerId: tenant.id, role: 'occupant', isContact: true },
    ],
    spaces: [{ kind: 'kitchen' }],
  })
  await buildEquipment(ctx, home.id, { kind: 'panel', details: {} })
  const old = await buildVisit(ctx, {
    propertyId: home.id,
    customerId: owner.id,
    technicianId: technician.id,
    day: '2026-06-01',
    windowStart: '12:00',
    windowEnd: '13:00',
  })
  const inspection = {
    id: newId(),
    propertyId: home.id,
    visitId: old.id,
    technicianId: technician.id,
    checklistVersion: 1,
  }
  await base.db.inspection.create({ data: inspection })
  const finding = (severity: string, text: string, closedOn: Date | null = null) =>
    base.db.finding.create({
      data: {
        id: newId(),
        propertyId: home.id,
        inspectionId: inspection.id,
        itemId: 'x',
        severity,
        text,
        foundOn: new Date('2026-06-01'),
        closedOn,
      },
    })
  await finding('improve', 'No bell')
  await finding('unsafe', 'Open splice')
  await finding('repair', 'Long mended', new Date('2026-06-01'))
  await base.db.followUp.deleteMany({ where: { propertyId: home.id } })
  const visit = await buildVisit(ctx, {
    propertyId: home.id,
    customerId: owner.id,
    technicianId: technician.id,
    day: '2026-06-02',
  })
  const answer = await technician.call('GET', '/api/v1/my-day?day=2026-06-02')
  expect(answer.statusCode, answer.body).toBe(200)
  const day = myDayView.strict().parse(answer.json())
  expect(day.visits).toHaveLength(1)
  expect(day.visits[0]).toMatchObject({
    id: visit.id,
    accessNotes: 'Gate code on the key ring.',
    yearBuilt: 1930,
    spaces: 1,
    equipment: 1,
    people: [
      { name: 'Tenant', role: 'occupant', isContact: true },
      { name: 'Owner', role: 'owner', isContact: false },
    ],
    openFindings: [
      { severity: 'unsafe', text: 'Open splice' },
      { severity: 'improve', text: 'No bell' },
    ],
  })
  const other = await person('technician')
  expect((await other.call('GET', '/api/v1/my-day?day=2026-06-02')).json().visits).toEqual([])
})

test.each([
  'day=2026-02-30',
  'day=tomorrow',
  'day=',
  '',
  'day=2026-06-01&day=2026-06-02',
  'day=-271821-04-20',
])('a day that is none is refused: %s', async (query) => {
  for (const url of ['visits/day', 'my-day']) {
    const answer = await office.call('GET', `/api/v1/${url}?${query}`)
    expect(answer.statusCode).toBe(400)
    expect(answer.json().errors[0].pointer).toBe('?day')
  }
})
