import { createHash } from 'node:crypto'
import { expect, test, vi } from 'vitest'
import { newId } from '../../server/ids.ts'
import { buildTestApp } from '../build/app.ts'
import {
  answersFor,
  buildDevice,
  buildInspectableHome,
  buildInspection,
  buildVisit,
  operation,
  readInspection,
} from '../build/inspection.ts'

// A whole inspection is a hundred operations, each a transaction of its own.
vi.setConfig({ testTimeout: 90_000 })

const { base, ctx, rung, person } = await buildTestApp()
const office = await person('office')
const technician = await person('technician', 'Ana Reyes')
const other = await person('technician', 'Ben Tully')

const circuitAnswer = (id: string, circuitId: string, result: 'ok' | 'finding', note = '', more = {}) =>
  operation(
    'answer-item',
    id,
    { itemId: 'panel-cover-off.circuit', subjectKind: 'equipment', subjectId: circuitId, result, note },
    more,
  )

test('a whole inspection goes out in operations, and closes the circle', async () => {
  const { id, device, property, visit, circuit, alarm } = await buildInspection(ctx, technician)
  const findingId = newId()

  const [blocked] = await device.send([operation('complete-inspection', id, {})])
  expect(blocked!.problem).toMatchObject({ type: '/problems/inspection-incomplete', status: 409 })
  expect((blocked!.problem!['open'] as unknown[]).length).toBeGreaterThan(50)

  await device.apply([
    circuitAnswer(id, circuit.id, 'finding', 'Too large for the wire'),
    operation('save-finding', id, {
      findingId,
      itemId: 'panel-cover-off.circuit',
      equipmentId: circuit.id,
      severity: 'unsafe',
      text: 'A 30 A breaker on 14 AWG copper.',
    }),
    operation('note-inspection', id, { note: 'Dog is friendly.' }),
    ...answersFor(await readInspection(technician, id)).filter(
      ({ payload }) => (payload as { subjectId?: string }).subjectId !== circuit.id,
    ),
  ])
  const unsettled = await device.send([operation('complete-inspection', id, {})])
  expect(unsettled[0]!.problem!['open']).toEqual([
    expect.objectContaining({ kind: 'unsafe-unsettled', findingId }),
  ])

  const statement = 'I was told that this is unsafe and want it left as it is.'
  const statementHash = createHash('sha256').update(statement).digest('hex')
  await device.apply([
    operation('refuse-make-safe', id, {
      findingId,
      signature: { name: 'Robin Vale', at: '2026-06-01T15:20:00Z', statement, statementHash },
    }),
    operation('complete-inspection', id, {}),
  ])

  const done = await readInspection(technician, id)
  expect(done).toMatchObject({
    state: 'completed',
    completedOn: '2026-06-01',
    note: 'Dog is friendly.',
    open: [],
  })
  expect(done.findings).toEqual([
    expect.objectContaining({ id: findingId, refusal: expect.objectContaining({ name: 'Robin Vale' }) }),
  ])
  expect(await base.db.visit.findUnique({ where: { id: visit.id } })).toMatchObject({ state: 'finished' })
  expect(await base.db.property.findUnique({ where: { id: property.id } })).toMatchObject({
    lastInspectedOn: new Date('2026-06-01'),
  })
  // A smoke alarm serves ten years from its making: NFPA 72-2013 §14.4.7.1.
  expect(await base.db.equipment.findUnique({ where: { id: alarm.id } })).toMatchObject({
    lastCheckedOn: new Date('2026-06-01'),
    replaceBy: new Date('2024-03-01'),
  })
  expect(rung).toContainEqual({ name: 'notify-household', payload: { propertyId: property.id } })
  expect(
    await base.db.auditEntry.findMany({ where: { subjectId: id }, orderBy: { at: 'asc' } }),
  ).toMatchObject([{ action: 'inspection.start' }, { action: 'inspection.complete' }])
})

test('a batch sent twice has the effect of one, and gets the same answer', async () => {
  const home = await buildInspectableHome(ctx)
  const visit = await buildVisit(ctx, technician.id, home.property)
  const device = buildDevice(technician)
  const id = newId()
  const batch = [
    operation('start-inspection', id, { visitId: visit.id }),
    circuitAnswer(id, home.circuit.id, 'ok'),
    operation('add-space', id, { space: { id: newId(), kind: 'bedroom', name: 'North bedroom', level: 0 } }),
    operation('remove-finding', id, { findingId: newId() }),
    operation('answer-item', id, { itemId: 'no.such-item', subjectKind: 'home', result: 'ok' }),
  ]
  const first = await device.send(batch)
  expect(first.map((each) => each.outcome)).toEqual(['applied', 'applied', 'applied', 'applied', 'refused'])
  const again = await device.send(batch)
  expect(again).toEqual(first.map((each) => ({ ...each, replayed: true })))
  const inspection = await readInspection(technician, id)
  expect(inspection.answers).toHaveLength(1)
  expect(inspection.answers[0]!.version).toBe(1)
  expect(inspection.spaces).toHaveLength(3)
})

test('the same batch sent twice at the same time is applied once', async () => {
  const { id, device, circuit } = await buildInspection(ctx, technician)
  const batch = [1, 2, 3].map((n) => circuitAnswer(id, circuit.id, 'ok', `round ${n}`))
  const answers = await Promise.all([device.send(batch), device.send(batch), device.send(batch)])
  for (const outcomes of answers)
    expect(outcomes.map((each) => each.outcome)).toEqual(Array(3).fill('applied'))
  const { answers: stored } = await readInspection(technician, id)
  expect(stored).toMatchObject([{ note: 'round 3', version: 3 }])
})

test('another act under a used id is refused, and changes nothing', async () => {
  const { id, device, circuit } = await buildInspection(ctx, technician)
  const first = circuitAnswer(id, circuit.id, 'ok')
  await device.apply([first])
  const [tampered] = await device.send([{ ...first, payload: { ...first.payload, result: 'finding' } }])
  expect(tampered).toMatchObject({ outcome: 'refused', problem: { type: '/problems/key-reused' } })
  const [taken] = await buildDevice(other).send([first])
  expect(taken).toMatchObject({ outcome: 'refused', problem: { type: '/problems/key-reused' } })
  expect((await readInspection(technician, id)).answers).toMatchObject([{ result: 'ok', version: 1 }])
})

test('two devices: different items merge; of the same item the later is shown and the earlier offered', async () => {
  const { id, device: phone, circuit, panel } = await buildInspection(ctx, technician)
  const tablet = buildDevice(technician)
  await phone.apply([circuitAnswer(id, circuit.id, 'ok', 'seen from the phone')])
  await tablet.apply([
    operation('answer-item', id, {
      itemId: 'panel-cover-on.location',
      subjectKind: 'equipment',
      subjectId: panel.id,
      result: 'ok',
    }),
  ])
  const [outcome] = await tablet.apply([circuitAnswer(id, circuit.id, 'finding', 'seen from the tablet')])
  expect(outcome!.superseded).toMatchObject({
    kind: 'answer',
    record: { result: 'ok', note: 'seen from the phone' },
  })
  const { answers } = await readInspection(technician, id)
  expect(answers).toHaveLength(2)
  expect(answers.find((each) => each.subjectId === circuit.id)).toMatchObject({
    result: 'finding',
    version: 2,
  })
})

test('without signal a device changes its own answer again and again without a conflict', async () => {
  const { id, device, circuit } = await buildInspection(ctx, technician)
  const outcomes = await device.apply([
    circuitAnswer(id, circuit.id, 'ok', 'first'),
    circuitAnswer(id, circuit.id, 'ok', 'second'),
    operation('clear-answer', id, {
      itemId: 'panel-cover-off.circuit',
      subjectKind: 'equipment',
      subjectId: circuit.id,
    }),
    circuitAnswer(id, circuit.id, 'finding', 'third'),
  ])
  expect(outcomes.map((each) => each.superseded)).toEqual([null, null, null, null])
})

test('a version that was seen is no conflict', async () => {
  const { id, device: phone, circuit } = await buildInspection(ctx, technician)
  await phone.apply([circuitAnswer(id, circuit.id, 'ok')])
  const [seen] = await buildDevice(technician).apply([
    circuitAnswer(id, circuit.id, 'finding', '', { base: 1 }),
  ])
  expect(seen).toMatchObject({ superseded: null, version: 2 })
})

test('two devices that fill in different fields of one thing merge; of the same field the earlier is offered', async () => {
  const { id, device: phone, circuit } = await buildInspection(ctx, technician)
  const tablet = buildDevice(technician)
  const change = (details: Record<string, unknown>) =>
    operation(
      'change-equipment',
      id,
      { equipmentId: circuit.id, changes: { details } },
      { base: circuit.version },
    )
  await phone.apply([change({ conductorsUnderTerminal: 2 })])
  const [merged] = await tablet.apply([change({ directory: 'Kitchen' })])
  expect(merged!.superseded).toBeNull()
  const [replaced] = await tablet.apply([change({ conductorsUnderTerminal: 1 })])
  // The tablet's own change to another field lies between; the phone's to this one it never saw.
  expect(replaced!.superseded).toEqual({
    kind: 'equipment',
    record: { id: circuit.id, changes: { details: { conductorsUnderTerminal: 2 } } },
  })
  const [offered] = await phone.apply([change({ conductorsUnderTerminal: 3 })])
  expect(offered!.superseded).toEqual({
    kind: 'equipment',
    record: { id: circuit.id, changes: { details: { conductorsUnderTerminal: 1 } } },
  })
  const { equipment } = await readInspection(technician, id)
  expect(equipment.find((each) => each.id === circuit.id)!.details).toMatchObject({
    conductorsUnderTerminal: 3,
    directory: 'Kitchen',
    ratingAmps: 30,
  })
})

test('two devices that began one visit without signal fill in one inspection', async () => {
  const { property, circuit, kitchen } = await buildInspectableHome(ctx)
  const visit = await buildVisit(ctx, technician.id, property)
  const [phone, tablet] = [buildDevice(technician), buildDevice(technician)]
  const [first, second] = [newId(), newId()]
  await phone.apply([operation('start-inspection', first, { visitId: visit.id })])
  const [begun] = await tablet.apply([
    operation('start-inspection', second, { visitId: visit.id }),
    circuitAnswer(second, circuit.id, 'ok'),
  ])
  expect(begun!.superseded).toEqual({ kind: 'inspection', record: { id: first } })
  await tablet.apply([operation('change-space', second, { spaceId: kitchen, changes: { hasSink: true } })])
  const inspection = await readInspection(technician, first)
  expect(inspection.answers).toHaveLength(1)
  expect(inspection.spaces).toContainEqual(
    expect.objectContaining({ id: kitchen, hasSink: true, version: 2 }),
  )
})

test('each of many wrong operations is refused with its reason, and the good ones go through', async () => {
  const mine = await buildInspection(ctx, technician)
  const theirs = await buildInspection(ctx, other)
  const { id, device, circuit } = mine
  const outcomes = await device.send([
    circuitAnswer(id, circuit.id, 'ok'),
    circuitAnswer(theirs.id, theirs.circuit.id, 'ok'),
    circuitAnswer(newId(), circuit.id, 'ok'),
    circuitAnswer(id, theirs.circuit.id, 'ok'),
    operation('start-inspection', newId(), { visitId: theirs.visit.id }),
    operation('start-inspection', newId(), { visitId: newId() }),
    operation('answer-item', id, {
      itemId: 'grounding.rods-apart',
      subjectKind: 'home',
      result: 'ok',
    }),
    operation('answer-item', id, {
      itemId: 'panel-cover-off.opened',
      subjectKind: 'equipment',
      subjectId: mine.panel.id,
      result: 'ok',
      readings: { voltageTested: 'very' },
    }),
    operation('change-equipment', id, { equipmentId: circuit.id, changes: { details: { ratingAmps: -4 } } }),
    operation('change-equipment', id, { equipmentId: theirs.circuit.id, changes: { label: 'Mine now' } }),
    operation('change-equipment', id, { equipmentId: circuit.id, changes: { parentId: circuit.id } }),
    operation('remove-finding', id, { findingId: 'not an id' }),
    { ...circuitAnswer(id, circuit.id, 'ok'), command: 'paint-the-panel' },
    { ...circuitAnswer(id, circuit.id, 'ok'), colour: 'red' },
    { id: 7 },
    circuitAnswer(id, circuit.id, 'ok', 'zero\0byte'),
    operation('note-inspection', id, { note: 'Gone through.' }),
  ])
  expect(outcomes.map(({ outcome, problem }) => `${outcome} ${problem?.['type'] ?? ''}`.trim())).toEqual([
    'applied',
    'refused /problems/not-allowed',
    'refused /problems/not-found',
    'refused /problems/invalid-request',
    'refused /problems/not-allowed',
    'refused /problems/not-found',
    'refused /problems/invalid-request',
    'refused /problems/invalid-request',
    'refused /problems/invalid-request',
    'refused /problems/not-found',
    'refused /problems/invalid-request',
    'refused /problems/invalid-request',
    'refused /problems/invalid-request',
    'refused /problems/invalid-request',
    'refused /problems/invalid-request',
    'refused /problems/invalid-request',
    'applied',
  ])
  for (const { outcome, problem } of outcomes.filter((each) => each.outcome === 'refused')) {
    expect(problem!['detail'], outcome).toMatch(/\w{3}/)
  }
  expect(outcomes[12]!.problem!['detail']).toContain('paint-the-panel')
  expect((await readInspection(other, theirs.id)).answers).toEqual([])
})

test('a signature whose hash does not belong to its words is refused', async () => {
  const { id, device } = await buildInspection(ctx, technician)
  const findingId = newId()
  await device.apply([
    operation('save-finding', id, { findingId, itemId: 'service.lugs', severity: 'unsafe', text: 'Loose' }),
  ])
  const [outcome] = await device.send([
    operation('refuse-make-safe', id, {
      findingId,
      signature: {
        name: 'Robin Vale',
        at: '2026-06-01T15:20:00Z',
        statement: 'I want it left as it is.',
        statementHash: createHash('sha256').update('Something milder.').digest('hex'),
      },
    }),
  ])
  expect(outcome!.problem).toMatchObject({
    type: '/problems/invalid-request',
    errors: [expect.objectContaining({ pointer: '#/signature/statementHash' })],
  })
  expect((await readInspection(technician, id)).findings[0]!.refusal).toBeNull()
})

test('what comes after the completion is refused until the office opens it again', async () => {
  const { id, device, circuit } = await buildInspection(ctx, technician)
  await device.apply(answersFor(await readInspection(technician, id)))
  await device.apply([operation('complete-inspection', id, {})])
  const [late] = await device.send([circuitAnswer(id, circuit.id, 'finding')])
  expect(late).toMatchObject({ outcome: 'refused', problem: { type: '/problems/wrong-state' } })
  const reopened = await office.call('POST', `/api/v1/inspections/${id}/reopen`)
  expect(reopened.json()).toMatchObject({ state: 'open', completedOn: null })
  await device.apply([circuitAnswer(id, circuit.id, 'ok', 'looked again')])
})

test('the rules are asked again here: a proposal of the device is not taken over', async () => {
  const { id, device, circuit } = await buildInspection(ctx, technician)
  const findingId = newId()
  await device.apply([
    operation('save-finding', id, {
      findingId,
      itemId: 'panel-cover-off.circuit',
      equipmentId: circuit.id,
      severity: 'watch',
      proposedSeverity: 'watch',
      rule: 'overcurrent.breaker-against-conductor',
      text: 'A 30 A breaker on 14 AWG copper.',
    }),
    circuitAnswer(id, circuit.id, 'finding'),
  ])
  const { findings, open, answers } = await readInspection(technician, id)
  const verdict = answers[0]!.verdicts.find(
    (each) => each['rule'] === 'overcurrent.breaker-against-conductor',
  )
  // NFPA 70-2023 §240.4(D): 14 AWG copper takes 15 A at most.
  expect(verdict).toMatchObject({ outcome: 'finding' })
  expect(findings[0]!.proposedSeverity).toBe(verdict!['severity'])
  expect(open).toContainEqual(expect.objectContaining({ kind: 'lowered-without-reason', findingId }))
})

test('a device whose clock is a year behind begins no inspection a year ago', async () => {
  const { property } = await buildInspectableHome(ctx)
  const visit = await buildVisit(ctx, technician.id, property)
  const [id, findingId] = [newId(), newId()]
  const at = '2025-06-01T15:00:00Z'
  await buildDevice(technician).apply([
    operation('start-inspection', id, { visitId: visit.id }, { at }),
    operation(
      'save-finding',
      id,
      { findingId, itemId: 'receptacles.opened', severity: 'repair', text: '' },
      { at },
    ),
  ])
  const { startedAt, findings } = await base.db.inspection.findUniqueOrThrow({
    where: { id },
    include: { findings: true },
  })
  expect(startedAt).toEqual(ctx.now())
  expect(findings.map(({ foundOn }) => foundOn)).toEqual([new Date('2026-06-01')])
})
