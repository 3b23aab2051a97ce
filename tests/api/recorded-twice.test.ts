import { expect, test, vi } from 'vitest'
import { newId } from '../../server/ids.ts'
import type { AlternativeView } from '../../server/inspections/record-schema.ts'
import { buildTestApp } from '../build/app.ts'
import {
  buildCompletedInspection,
  buildDevice,
  buildInspection,
  operation,
  readInspection,
} from '../build/inspection.ts'

vi.setConfig({ testTimeout: 60_000 })

const { base, ctx, clock, person } = await buildTestApp()
const office = await person('office', 'Dana Moss')
const technician = await person('technician', 'Ana Reyes')

const ITEM = 'panel-cover-off.circuit'
const answer = (id: string, subjectId: string, note: string, more = {}) =>
  operation(
    'answer-item',
    id,
    { itemId: ITEM, subjectKind: 'equipment', subjectId, result: 'ok', note },
    more,
  )
const choose = (id: string, alternativeId: string, choice: 'keep' | 'use', more = {}) =>
  operation('choose-recorded', id, { alternativeId, choice }, more)

/** Phone and tablet of one technician answered one line without seeing each other. */
async function buildTwice() {
  const built = await buildInspection(ctx, technician)
  const { id, device: phone, circuit } = built
  const tablet = buildDevice(technician)
  await phone.apply([answer(id, circuit.id, 'from the phone')])
  await tablet.apply([answer(id, circuit.id, 'from the tablet')])
  const [other] = (await readInspection(technician, id)).alternatives
  return { ...built, phone, tablet, other: other! }
}

test('the later answer is shown, and the earlier one is offered with who recorded it', async () => {
  const { id, other, visit } = await buildTwice()
  expect(await readInspection(technician, id)).toMatchObject({
    answers: [{ note: 'from the tablet', version: 2 }],
    alternatives: [
      {
        kind: 'answer',
        record: { itemId: ITEM, note: 'from the phone' },
        recordedByName: 'Ana Reyes',
        recordedAt: '2026-06-01T15:00:00.000Z',
      },
    ],
  })
  const pack = await technician.call('GET', '/api/v1/field/pack?days=14')
  const packed = pack.json().visits.find((each: { id: string }) => each.id === visit.id)
  expect(packed.inspection.alternatives).toEqual([other])
})

test('the order is the server’s: neither clocks nor ids of the devices decide', async () => {
  const { id, device: phone, circuit } = await buildInspection(ctx, technician)
  const tablet = buildDevice(technician)
  // Sent first by a device whose clock is a year ahead, so that its id is the greater one.
  await phone.apply([
    answer(id, circuit.id, 'first', {
      at: '2027-06-01T15:00:00Z',
      id: 'ffffffff-0000-7000-8000-' + newId().slice(-12),
    }),
  ])
  await tablet.apply([answer(id, circuit.id, 'second', { at: '2020-06-01T15:00:00Z' })])
  const outcome = await tablet.apply([answer(id, circuit.id, 'third')])
  // The last to write was the tablet itself, although both came within one millisecond of the server.
  expect(outcome[0]!.superseded).toBeNull()
  expect(await readInspection(technician, id)).toMatchObject({
    answers: [{ note: 'third' }],
    alternatives: [{ record: { note: 'first' } }],
  })
})

test('“keep this” ends the offer and changes nothing; “use that one” puts it back', async () => {
  const kept = await buildTwice()
  await kept.phone.apply([choose(kept.id, kept.other.id, 'keep')])
  expect(await readInspection(technician, kept.id)).toMatchObject({
    answers: [{ note: 'from the tablet', version: 2 }],
    alternatives: [],
  })
  const used = await buildTwice()
  const [outcome] = await used.phone.apply([choose(used.id, used.other.id, 'use', { base: 2 })])
  expect(outcome).toMatchObject({ version: 3, superseded: null })
  expect(await readInspection(technician, used.id)).toMatchObject({
    answers: [{ note: 'from the phone', version: 3 }],
    alternatives: [],
  })
  // Nothing of it is gone: who chose what stays on record.
  expect(await base.db.alternative.findUnique({ where: { id: used.other.id } })).toMatchObject({
    choice: 'use',
    chosenById: technician.id,
    record: { note: 'from the phone' },
  })
})

test('what a choice replaces unseen is offered in turn', async () => {
  const { id, phone, tablet, other, circuit } = await buildTwice()
  await tablet.apply([answer(id, circuit.id, 'looked again')])
  await phone.apply([choose(id, other.id, 'use', { base: 2 })])
  expect(await readInspection(technician, id)).toMatchObject({
    answers: [{ note: 'from the phone' }],
    alternatives: [{ record: { note: 'looked again' } }],
  })
})

test('the same choice again, or a second one after it, does no harm', async () => {
  const { id, phone, tablet, other } = await buildTwice()
  await phone.apply([choose(id, other.id, 'use', { base: 2 })])
  await tablet.apply([choose(id, other.id, 'use', { base: 2 }), choose(id, other.id, 'keep', { base: 2 })])
  expect(await readInspection(technician, id)).toMatchObject({
    answers: [{ note: 'from the phone', version: 3 }],
    alternatives: [],
  })
})

test('two who recorded the same have nothing to choose', async () => {
  const { id, device: phone, circuit } = await buildInspection(ctx, technician)
  await phone.apply([answer(id, circuit.id, 'sound')])
  await buildDevice(technician).apply([answer(id, circuit.id, 'sound')])
  expect((await readInspection(technician, id)).alternatives).toEqual([])
})

test('office and device: what the office wrote is offered to the technician, and the other way round', async () => {
  const { id, device, circuit } = await buildInspection(ctx, technician)
  const desk = (note: string, base: number | null) =>
    office.call('POST', `/api/v1/inspections/${id}/answers`, {
      payload: { itemId: ITEM, subjectKind: 'equipment', subjectId: circuit.id, result: 'ok', note, base },
    })
  await device.apply([answer(id, circuit.id, 'on site')])
  await desk('from the file', null)
  await device.apply([answer(id, circuit.id, 'on site, again')])
  const { alternatives, answers } = await readInspection(office, id)
  expect(answers).toMatchObject([{ note: 'on site, again' }])
  const said = (each: AlternativeView) => [each.recordedByName, each.record['note'], each.replacedByName]
  expect(alternatives.map(said)).toEqual([
    ['Ana Reyes', 'on site', 'Dana Moss'],
    ['Dana Moss', 'from the file', 'Ana Reyes'],
  ])
  // The office chooses by the same operation.
  const [chosen] = await buildDevice(office).send([choose(id, alternatives[1]!.id, 'use', { base: 3 })])
  expect(chosen).toMatchObject({ outcome: 'applied' })
  expect(await readInspection(office, id)).toMatchObject({ answers: [{ note: 'from the file' }] })
})

test('an answer taken back, and a finding removed, by one while the other changed it', async () => {
  const { id, device: phone, circuit } = await buildInspection(ctx, technician)
  const tablet = buildDevice(technician)
  const findingId = newId()
  const finding = (text: string, more = {}) =>
    operation('save-finding', id, { findingId, itemId: 'service.lugs', severity: 'repair', text }, more)
  await phone.apply([answer(id, circuit.id, 'first'), finding('Loose')])
  await tablet.apply([
    operation(
      'clear-answer',
      id,
      { itemId: ITEM, subjectKind: 'equipment', subjectId: circuit.id },
      { base: 1 },
    ),
    operation('remove-finding', id, { findingId }, { base: 1 }),
  ])
  await phone.apply([answer(id, circuit.id, 'second', { base: 1 }), finding('Very loose', { base: 1 })])
  const { alternatives } = await readInspection(technician, id)
  expect(alternatives.map((each) => each.record)).toEqual([
    { itemId: ITEM, subjectKind: 'equipment', subjectId: circuit.id, result: null },
    { id: findingId, removed: true },
  ])
  await phone.apply(alternatives.map((each) => choose(id, each.id, 'use', { base: 1 })))
  expect(await readInspection(technician, id)).toMatchObject({ answers: [], findings: [] })
})

test('findings, notes, rooms and equipment are offered and put back like answers', async () => {
  const { id, device: phone, circuit, kitchen } = await buildInspection(ctx, technician)
  const tablet = buildDevice(technician)
  const findingId = newId()
  const changes = (who: string, amps: number) => [
    operation('save-finding', id, { findingId, itemId: 'service.lugs', severity: 'repair', text: who }),
    operation('note-inspection', id, { note: who }),
    operation('change-space', id, { spaceId: kitchen, changes: { name: who } }, { base: 1 }),
    operation(
      'change-equipment',
      id,
      { equipmentId: circuit.id, changes: { label: who, details: { ratingAmps: amps } } },
      { base: 1 },
    ),
  ]
  await phone.apply(changes('phone', 15))
  await tablet.apply(changes('tablet', 20))
  const { alternatives } = await readInspection(technician, id)
  expect(alternatives.map((each) => each.kind).toSorted()).toEqual(['equipment', 'finding', 'note', 'space'])
  await phone.apply(alternatives.map((each) => choose(id, each.id, 'use')))
  const after = await readInspection(technician, id)
  expect(after).toMatchObject({ note: 'phone', findings: [{ text: 'phone' }], alternatives: [] })
  expect(after.spaces.find((each) => each.id === kitchen)).toMatchObject({ name: 'phone' })
  expect(after.equipment.find((each) => each.id === circuit.id)).toMatchObject({
    label: 'phone',
    details: { ratingAmps: 15 },
  })
})

test('after the completion what is shown can be kept, and only after reopening can the other one be used', async () => {
  const { id, device, circuit } = await buildCompletedInspection(ctx, technician)
  await base.db.alternative.create({
    data: {
      id: newId(),
      inspectionId: id,
      subject: `answer:${ITEM}@${circuit.id}`,
      kind: 'answer',
      record: { itemId: ITEM, subjectKind: 'equipment', subjectId: circuit.id, result: 'ok' },
      recordedAt: clock.now,
      replacedById: technician.id,
      replacedAt: clock.now,
    },
  })
  const [other] = (await readInspection(technician, id)).alternatives
  const [used] = await device.send([choose(id, other!.id, 'use')])
  expect(used).toMatchObject({ outcome: 'refused', problem: { type: '/problems/wrong-state' } })
  await device.apply([choose(id, other!.id, 'keep')])
  expect((await readInspection(technician, id)).alternatives).toEqual([])
})

test('nobody chooses about another inspection, or about nothing', async () => {
  const { other } = await buildTwice()
  const mine = await buildInspection(ctx, technician)
  const outcomes = await mine.device.send([
    choose(mine.id, other.id, 'use'),
    choose(mine.id, newId(), 'keep'),
    choose(mine.id, other.id, 'both' as 'keep'),
  ])
  expect(outcomes.map((each) => each.problem?.['type'])).toEqual([
    '/problems/not-found',
    '/problems/not-found',
    '/problems/invalid-request',
  ])
})
