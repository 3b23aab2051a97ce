import { expect, test, vi } from 'vitest'
import { newId } from '../../server/ids.ts'
import { answerView } from '../../server/inspections/record-schema.ts'
import { type InspectionSummary, inspectionView, type VerdictsView } from '../../server/inspections/schema.ts'
import { packView, type PackView } from '../../server/field/pack-schema.ts'
import type { Page } from '../../server/paging.ts'
import { buildTestApp } from '../build/app.ts'
import {
  answersFor,
  buildCompletedInspection,
  buildDevice,
  buildInspectableHome,
  buildInspection,
  buildVisit,
  operation,
  readInspection,
} from '../build/inspection.ts'
import { buildEquipment } from '../build/property.ts'

vi.setConfig({ testTimeout: 60_000 })

const { base, ctx, clock, rung, nobody, person } = await buildTestApp()
const office = await person('office', 'Dana Okafor')
const technician = await person('technician', 'Ana Reyes')
const other = await person('technician', 'Ben Tully')

const answer = (by: typeof office, id: string, payload: Record<string, unknown>) =>
  by.call('POST', `/api/v1/inspections/${id}/answers`, { payload })

test('the office begins an inspection; the visit’s technician carries it on', async () => {
  const { property } = await buildInspectableHome(ctx)
  const visit = await buildVisit(ctx, technician.id, property)
  const id = newId()
  const begin = () => office.call('POST', '/api/v1/inspections', { payload: { id, visitId: visit.id } })
  const [first, again] = [await begin(), await begin()]
  expect([first.statusCode, again.statusCode]).toEqual([201, 201])
  expect(again.json()).toEqual(first.json())
  const view = inspectionView.parse(first.json())
  expect(view).toMatchObject({ id, state: 'open', technicianId: technician.id, technicianName: 'Ana Reyes' })
  expect(view.open.length).toBe(view.lines.length)
  expect(view.progress.map((area) => area.answered)).toEqual(view.progress.map(() => 0))
  expect(view.leftOut).toContainEqual(
    expect.objectContaining({
      itemId: expect.stringMatching(/^gas-bond/),
      reason: 'The home has no gas piping.',
    }),
  )
  expect((await other.call('GET', `/api/v1/inspections/${id}`)).statusCode).toBe(403)
  expect((await nobody('GET', `/api/v1/inspections/${id}`)).statusCode).toBe(401)
})

test('an answer is judged by the rules and can be given again; another person’s is kept and offered', async () => {
  const { id, circuit } = await buildInspection(ctx, technician)
  const line = { itemId: 'panel-cover-off.circuit', subjectKind: 'equipment', subjectId: circuit.id }
  const first = await answer(technician, id, { ...line, result: 'ok' })
  expect(first.statusCode, first.body).toBe(200)
  expect(answerView.parse(first.json())).toMatchObject({
    version: 1,
    answeredById: technician.id,
    answeredAt: '2026-06-01T15:00:00.000Z',
  })
  // NFPA 70-2023 §240.4(D)(3): 14 AWG copper takes 15 A at most; this circuit has 30 A.
  expect(first.json().verdicts).toContainEqual(
    expect.objectContaining({ rule: 'overcurrent.breaker-against-conductor', outcome: 'finding' }),
  )

  const own = await answer(technician, id, { ...line, result: 'finding', base: 1 })
  expect(own.json()).toMatchObject({ version: 2, superseded: null })
  const theirs = await answer(office, id, { ...line, result: 'ok', note: 'From the desk' })
  expect(theirs.json()).toMatchObject({
    version: 3,
    superseded: { kind: 'answer', record: { result: 'finding', version: 2 } },
  })
  const kept = await base.db.operation.findFirstOrThrow({ where: { inspectionId: id, userId: office.id } })
  expect(kept.payload).toMatchObject({ superseded: { record: { result: 'finding' } } })
  const seen = await answer(technician, id, { ...line, result: 'finding', base: 3 })
  expect(seen.json().superseded).toBeNull()
})

const ages = { itemId: 'alarms.ages', subjectKind: 'home', result: 'ok' }
const spares = { itemId: 'panel-cover-off.spare-spaces', subjectKind: 'home', result: 'ok' }
const circuitLine = { itemId: 'panel-cover-off.circuit', subjectKind: 'equipment', result: 'ok' }

test.each([
  ['an unknown item', { itemId: 'no.such-item', subjectKind: 'home', result: 'ok' }, '#/itemId'],
  ['an unknown result', { ...ages, result: 'superb' }, '#/result'],
  [
    'a subject that the item is not about',
    { ...ages, subjectKind: 'equipment', subjectId: newId() },
    '#/subjectId',
  ],
  ['equipment of nowhere', { ...circuitLine, subjectId: newId() }, '#/subjectId'],
  ['equipment that is not named', circuitLine, '#/subjectId'],
  ['a reading beyond its range', { ...spares, readings: { spareSpaces: 900 } }, '#/readings/spareSpaces'],
  ['a reading that is a text', { ...spares, readings: { spareSpaces: 'many' } }, '#/readings/spareSpaces'],
  ['a reading that the item has not', { ...ages, readings: { colour: 'red' } }, '#/readings'],
  ['a note that is too long', { ...ages, note: 'x'.repeat(5000) }, '#/note'],
  ['a zero byte', { ...ages, note: 'a\0b' }, '#/note'],
  ['an unknown field', { ...ages, colour: 'red' }, '#/'],
])('%s in an answer is refused, and nothing is written', async (_what, payload, pointer) => {
  const { id } = await shared
  const refused = await answer(technician, id, payload)
  expect(refused.statusCode, refused.body).toBe(400)
  expect(refused.json()).toMatchObject({
    type: '/problems/invalid-request',
    errors: [expect.objectContaining({ pointer })],
  })
  expect((await readInspection(technician, id)).answers).toEqual([])
})
const shared = buildInspection(ctx, technician)

test('from the desk: what is open is listed, then it is completed, and the rest follows', async () => {
  const { id, device, visit, property } = await buildInspection(ctx, technician)
  const early = await office.call('POST', `/api/v1/inspections/${id}/complete`)
  expect(early.json()).toMatchObject({ type: '/problems/inspection-incomplete', status: 409 })
  expect(early.json().open[0]).toMatchObject({ kind: 'unanswered', text: expect.any(String) })
  expect((await other.call('POST', `/api/v1/inspections/${id}/complete`)).statusCode).toBe(403)

  await device.apply(answersFor(await readInspection(technician, id)))
  const done = await office.call('POST', `/api/v1/inspections/${id}/complete`)
  expect(done.json()).toMatchObject({
    state: 'completed',
    completedOn: '2026-06-01',
    completedAt: '2026-06-01T15:00:00.000Z',
  })
  expect((await base.db.visit.findUniqueOrThrow({ where: { id: visit.id } })).state).toBe('finished')
  expect(rung).toContainEqual({ name: 'notify-household', payload: { propertyId: property.id } })
  const again = await office.call('POST', `/api/v1/inspections/${id}/complete`)
  expect(again.json()).toMatchObject({ type: '/problems/wrong-state', state: 'completed' })
})

test('a cover that stayed on answers what lies behind it', async () => {
  const { id, device, panel } = await buildInspection(ctx, technician)
  const closed = { itemId: 'panel-cover-off.opened', subjectKind: 'equipment' as const, subjectId: panel.id }
  const operations = answersFor(await readInspection(technician, id)).filter(({ payload }) => {
    const { itemId } = payload as { itemId: string }
    return !itemId.startsWith('panel-cover-off.')
  })
  await device.apply([
    ...operations,
    operation('answer-item', id, { ...closed, result: 'not-reached', notReachedReason: 'energised' }),
  ])
  const rest = answersFor(await readInspection(technician, id)).filter(({ payload }) =>
    ['openings', 'spare-spaces', 'disconnects', 'split-bus', 'load'].includes(
      (payload as { itemId: string }).itemId.split('.')[1]!,
    ),
  )
  await device.apply([...rest, operation('complete-inspection', id, {})])
  const { answers } = await readInspection(technician, id)
  expect(answers.find((each) => each.itemId === 'panel-cover-off.circuit')).toMatchObject({
    result: 'not-reached',
    notReachedReason: 'energised',
  })
})

test('a finding goes along to the next inspection, and is settled there', async () => {
  const first = await buildCompletedInspection(ctx, technician)
  const visit = await buildVisit(ctx, technician.id, first.property)
  const device = buildDevice(technician)
  const id = newId()
  await device.apply([operation('start-inspection', id, { visitId: visit.id })])
  const begun = await readInspection(technician, id)
  expect(begun.carried.map((each) => each.id).sort()).toEqual(Object.values(first.findings).sort())
  expect(begun.open.filter((each) => each.kind === 'carried-unanswered')).toHaveLength(2)
  await device.apply([
    operation('review-carried', id, { findingId: first.findings.breaker, outcome: 'corrected-by-us' }),
    operation('review-carried', id, { findingId: first.findings.alarm, outcome: 'still-there' }),
    ...answersFor(begun),
    operation('complete-inspection', id, {}),
  ])
  const findings = await base.db.finding.findMany({ where: { id: { in: Object.values(first.findings) } } })
  expect(
    Object.fromEntries(
      findings.map((each) => [each.id, [each.state, each.closedOn?.toISOString().slice(0, 10) ?? null]]),
    ),
  ).toEqual({
    [first.findings.breaker]: ['checked', '2026-06-01'],
    [first.findings.alarm]: ['open', null],
  })
  const report = await office.call('GET', `/api/v1/inspections/${id}/report-preview`)
  expect(report.json().content).toMatchObject({
    settled: [{ outcome: 'Corrected by us', foundOn: '2026-06-01' }],
    findings: [{ severity: 'repair', findings: [{ carried: true }] }],
  })
})

test('a finding is changed against the version that was seen, and only by steps that exist', async () => {
  const { findings } = await buildCompletedInspection(ctx, technician)
  const url = `/api/v1/findings/${findings.alarm}`
  const read = await office.call('GET', url)
  expect(read.headers.etag).toBe('"1"')
  const change = (payload: unknown, version?: string, by = office) =>
    by.call('PATCH', url, { payload: payload as object, headers: version ? { 'if-match': version } : {} })
  expect((await change({ text: 'New words' })).statusCode).toBe(428)
  expect((await change({ text: 'New words' }, '"1"')).json()).toMatchObject({ text: 'New words', version: 2 })
  expect((await change({ text: 'Old words' }, '"1"')).json()).toMatchObject({
    type: '/problems/changed-meanwhile',
    seen: 1,
    current: { version: 2, text: 'New words' },
  })
  expect((await change({ state: 'checked' }, '"2"')).json()).toMatchObject({
    type: '/problems/wrong-state',
    status: 409,
  })
  expect((await change({}, '"2"')).statusCode).toBe(400)
  expect((await change({ severity: 'awful' }, '"2"')).statusCode).toBe(400)
  expect((await change({ text: 'Mine' }, '"2"', other)).statusCode).toBe(403)
  expect((await change({ state: 'no-longer-applies' }, '"2"')).json()).toMatchObject({
    state: 'no-longer-applies',
    closedOn: '2026-06-01',
  })
})

test('every rule about the home, judged now', async () => {
  const { id, circuit } = await buildInspection(ctx, technician)
  const { verdicts } = (
    await technician.call('GET', `/api/v1/inspections/${id}/verdicts`)
  ).json<VerdictsView>()
  expect(verdicts).toContainEqual(
    expect.objectContaining({
      subjectKind: 'equipment',
      subjectId: circuit.id,
      itemId: 'panel-cover-off.circuit',
      verdict: expect.objectContaining({ rule: 'overcurrent.breaker-against-conductor', outcome: 'finding' }),
    }),
  )
})

test('the list pages, filters, and shows a technician only their own', async () => {
  const someone = await person('technician', 'Cleo Marsh')
  const mine: string[] = []
  for (let i = 0; i < 5; i++) mine.push((await buildInspection(ctx, someone)).id)
  const list = async (by: typeof office, query: string) => {
    const page = await by.call('GET', `/api/v1/inspections?${query}`)
    expect(page.statusCode, page.body).toBe(200)
    return page.json<Page<InspectionSummary>>()
  }
  const seen: string[] = []
  for (let cursor = ''; ;) {
    const page = await list(office, `technicianId=${someone.id}&limit=2${cursor && `&cursor=${cursor}`}`)
    seen.push(...page.items.map((each) => each.id))
    if (!page.next) break
    cursor = page.next
  }
  expect(seen).toEqual(mine.toReversed())
  const own = await list(someone, `technicianId=${technician.id}`)
  expect(own.items.map((each) => each.id)).toEqual(mine.toReversed())
  expect((await list(office, `technicianId=${someone.id}&state=completed`)).items).toEqual([])
  const { line1 } = own.items[0]!
  expect(
    (await list(office, `search=${encodeURIComponent(line1)}&technicianId=${someone.id}`)).items[0],
  ).toMatchObject({ line1 })
  expect((await list(office, `technicianId=${someone.id}&to=2026-05-31`)).items).toEqual([])

  const csv = await office.call('GET', `/api/v1/inspections/export.csv?technicianId=${someone.id}`)
  expect(csv.headers['content-type']).toContain('text/csv')
  expect(csv.body.split('\r\n')[0]).toContain('Visit,State,Address')
  expect(csv.body.trim().split('\r\n')).toHaveLength(6)
  for (const query of [
    'cursor=junk',
    'limit=0',
    'limit=1000',
    'state=done',
    'from=yesterday',
    'colour=red',
  ]) {
    expect((await office.call('GET', `/api/v1/inspections?${query}`)).statusCode, query).toBe(400)
  }
})

test('the pack holds everything for some days without signal, and says what is new', async () => {
  const someone = await person('technician', 'Dee Lindqvist')
  const first = await buildCompletedInspection(ctx, someone)
  const at = (iso: string) => ({ startsAt: new Date(iso) })
  const today = await buildVisit(ctx, someone.id, first.property, at('2026-06-01T20:00:00Z'))
  const lateToday = await buildVisit(ctx, someone.id, first.property, at('2026-06-02T03:30:00Z'))
  const inThreeDays = await buildVisit(ctx, someone.id, first.property, at('2026-06-04T04:30:00Z'))
  await buildVisit(ctx, someone.id, first.property, { ...at('2026-06-02T14:00:00Z'), state: 'cancelled' })
  await buildVisit(ctx, other.id, first.property, at('2026-06-01T22:00:00Z'))
  const read = async (query: string, by = someone): Promise<PackView> => {
    const pack = await by.call('GET', `/api/v1/field/pack?${query}`)
    expect(pack.statusCode, pack.body).toBe(200)
    return packView.parse(pack.json())
  }
  const pack = await read('day=2026-06-01&days=3')
  expect(pack).toMatchObject({
    day: '2026-06-01',
    serverTime: '2026-06-01T15:00:00.000Z',
    company: { name: 'Kestrel Row Electric', phone: '555-0100' },
    technician: { id: someone.id, name: 'Dee Lindqvist' },
  })
  // The days are those of the company in New York: 23:30 belongs to the first, half past midnight of the 4th to none.
  const ids = pack.visits.map((visit) => visit.id)
  expect(ids).toEqual(expect.arrayContaining([today.id, lateToday.id]))
  expect(ids).not.toContain(inThreeDays.id)
  expect(pack.visits.map((visit) => visit.startsAt)).toEqual(
    pack.visits.map((visit) => visit.startsAt).sort(),
  )
  const visit = pack.visits.find((each) => each.id === today.id)!
  expect(visit).toMatchObject({
    customer: { phone: expect.stringMatching(/^555-/) },
    property: { line1: first.property.line1, yearBuilt: 1978, fuels: ['electric'] },
    inspection: null,
    history: [
      {
        inspectionId: first.id,
        completedOn: '2026-06-01',
        technicianName: 'Dee Lindqvist',
        findings: 2,
        unsafe: 1,
      },
    ],
  })
  expect(visit.spaces.map((space) => space.name)).toEqual(['Hall', 'Kitchen'])
  expect(visit.equipment).toHaveLength(3)
  expect(visit.carried).toHaveLength(2)

  expect((await read('day=2026-06-01&days=3')).visits.map((each) => each.etag)).toEqual(
    pack.visits.map((each) => each.etag),
  )
  const device = buildDevice(someone)
  const id = newId()
  await device.apply([
    operation('start-inspection', id, { visitId: today.id }),
    operation('answer-item', id, { itemId: 'alarms.ages', subjectKind: 'home', result: 'ok' }),
  ])
  const later = await read('day=2026-06-01&days=3')
  const changed = later.visits.filter((each, i) => each.etag !== pack.visits[i]!.etag)
  expect(changed.map((each) => each.id)).toEqual([today.id])
  expect(changed[0]!.inspection).toMatchObject({ id, answers: [{ itemId: 'alarms.ages' }] })

  expect((await read('', technician)).visits.every((each) => each.id !== today.id)).toBe(true)
  expect((await read(`technicianId=${someone.id}&day=2026-06-01`, office)).visits.length).toBeGreaterThan(1)
  expect((await read(`technicianId=${someone.id}&day=2026-06-01`, technician)).technician.id).toBe(
    technician.id,
  )
  for (const query of ['day=2026-02-30', 'days=99', 'day=today', 'x=1']) {
    expect((await someone.call('GET', `/api/v1/field/pack?${query}`)).statusCode, query).toBe(400)
  }
})

test('an inspection that reaches the office a week later is dated on the day it was done', async () => {
  const { id, device } = await buildInspection(ctx, technician)
  await device.apply(answersFor(await readInspection(technician, id)))
  clock.set('2026-06-08T15:00:00Z')
  try {
    await device.apply([operation('complete-inspection', id, {}, { at: '2026-06-02T01:30:00Z' })])
    // 21:30 in New York: still the first of June there.
    expect(await readInspection(technician, id)).toMatchObject({
      completedAt: '2026-06-02T01:30:00.000Z',
      completedOn: '2026-06-01',
    })
  } finally {
    clock.set('2026-06-01T15:00:00Z')
  }
})

test('a device whose clock runs ahead cannot date anything into the future', async () => {
  const { id, device } = await buildInspection(ctx, technician)
  await device.apply([
    operation(
      'answer-item',
      id,
      { itemId: 'alarms.ages', subjectKind: 'home', result: 'ok' },
      { at: '2031-01-01T00:00:00Z' },
    ),
  ])
  expect((await readInspection(technician, id)).answers[0]!.answeredAt).toBe('2026-06-01T15:00:00.000Z')
})

test('equipment that the office adds later does not undo a completed inspection', async () => {
  const { id, property } = await buildCompletedInspection(ctx, technician)
  await buildEquipment(ctx, property.id, { kind: 'alarm', label: 'New alarm' })
  expect((await office.call('POST', `/api/v1/inspections/${id}/issue`, { payload: {} })).statusCode).toBe(201)
})
