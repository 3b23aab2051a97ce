import { expect, test, vi } from 'vitest'
import { newId } from '../../server/ids.ts'
import * as atHome from '../../server/inspections/at-home.ts'
import { buildTestApp } from '../build/app.ts'
import { buildInspection } from '../build/inspection.ts'
import { buildEquipment } from '../build/property.ts'

// A desk's answer is held against the home as this process last read it. Whatever changed since, by whichever process
// (here: straight in the database), must be noticed.

vi.setConfig({ testTimeout: 60_000 })

const { base, ctx, person } = await buildTestApp()
const { db } = base
const office = await person('office', 'Dana Okafor')
const technician = await person('technician', 'Ana Reyes')
const other = await person('technician', 'Ben Tully')

const answer = (id: string, payload: Record<string, unknown>, by = technician) =>
  by.call('POST', `/api/v1/inspections/${id}/answers`, { payload: { result: 'ok', ...payload } })
const onCircuit = (subjectId: string) => ({
  itemId: 'panel-cover-off.circuit',
  subjectKind: 'equipment',
  subjectId,
})
const METER = { itemId: 'service.meter-enclosure', subjectKind: 'home' }
const outcomes = (
  response: { json: () => { verdicts: { rule: string; outcome: string }[] } },
  rule: string,
) =>
  response
    .json()
    .verdicts.filter((each) => each.rule === rule)
    .map(({ outcome }) => outcome)

/** An inspection whose home this process has read. */
async function buildRead() {
  const built = await buildInspection(ctx, technician)
  expect((await answer(built.id, METER)).statusCode).toBe(200)
  return built
}

test('one home is read once for many answers', async () => {
  const { id, circuit } = await buildInspection(ctx, technician)
  const read = vi.spyOn(atHome, 'readAtHome')
  try {
    for (const line of [
      METER,
      onCircuit(circuit.id),
      METER,
      { itemId: 'alarms.ages', subjectKind: 'home' },
    ]) {
      expect((await answer(id, line)).statusCode).toBe(200)
    }
    expect(read).toHaveBeenCalledTimes(1)
  } finally {
    read.mockRestore()
  }
})

test('equipment that changed is judged as it is now', async () => {
  const { id, circuit } = await buildRead()
  // NFPA 70-2023 §240.4(D)(3): 14 AWG copper takes 15 A at most; this circuit has 30 A.
  const rule = 'overcurrent.breaker-against-conductor'
  expect(outcomes(await answer(id, onCircuit(circuit.id)), rule)).toEqual(['finding'])
  await db.$executeRaw`
    UPDATE equipment SET details = details || '{"ratingAmps": 15}' WHERE id = ${circuit.id}::uuid`
  expect(outcomes(await answer(id, onCircuit(circuit.id)), rule)).toEqual(['sound'])
})

test('equipment that came and went since', async () => {
  const { id, property, panel, circuit } = await buildRead()
  const added = await buildEquipment(ctx, property.id, {
    kind: 'circuit',
    label: 'Circuit 6',
    parentId: panel.id,
    details: { position: 6, poles: 1, ratingAmps: 15, device: 'breaker' },
  })
  expect((await answer(id, onCircuit(added.id))).statusCode).toBe(200)
  await db.equipment.update({ where: { id: circuit.id }, data: { retiredOn: new Date('2026-06-01') } })
  const gone = await answer(id, onCircuit(circuit.id))
  expect(gone.statusCode).toBe(400)
  expect(gone.json().errors).toEqual([
    { pointer: '#/subjectId', detail: 'this home has no such equipment in use' },
  ])
})

test('a room that came and went since', async () => {
  const { id, property, hall } = await buildRead()
  const porch = await db.space.create({
    data: { id: newId(), propertyId: property.id, kind: 'other', name: 'Porch' },
  })
  const inRoom = (subjectId: string) => ({ itemId: 'switches.room', subjectKind: 'space', subjectId })
  expect((await answer(id, inRoom(porch.id))).statusCode).toBe(200)
  await db.space.update({ where: { id: hall }, data: { retiredOn: new Date('2026-06-01') } })
  expect((await answer(id, inRoom(hall))).statusCode).toBe(400)
})

test('the home itself, and the code in force there', async () => {
  const { id, property } = await buildRead()
  const ages = { itemId: 'alarms.ages', subjectKind: 'home' }
  await answer(id, ages)
  const seen = atHome.recallAtHome(db, id)!.stamp
  await db.property.update({ where: { id: property.id }, data: { yearBuilt: 1931 } })
  await answer(id, ages)
  const [known, again] = [atHome.recallAtHome(db, id)!, seen]
  expect(known.home.property.yearBuilt).toBe(1931)
  expect(known.stamp).not.toBe(again)
  const jurisdiction = await db.jurisdiction.create({
    data: { id: newId(), name: 'Port Ansel', region: 'ME' },
  })
  await db.property.update({ where: { id: property.id }, data: { jurisdictionId: jurisdiction.id } })
  await answer(id, ages)
  await db.jurisdiction.update({
    where: { id: jurisdiction.id },
    data: { adoptions: [{ edition: '2023', from: '2024-01-01' }] },
  })
  await answer(id, ages)
  expect(atHome.recallAtHome(db, id)!.home.jurisdiction?.adoptions).toHaveLength(1)
})

test('an inspection that was completed, opened again, or given to somebody else', async () => {
  const { id } = await buildRead()
  await db.inspection.update({
    where: { id },
    data: { state: 'completed', completedAt: ctx.now(), completedOn: ctx.now() },
  })
  expect((await answer(id, METER)).json()).toMatchObject({ type: '/problems/wrong-state' })
  await db.inspection.update({ where: { id }, data: { state: 'open', completedAt: null, completedOn: null } })
  expect((await answer(id, METER)).statusCode).toBe(200)
  await db.inspection.update({ where: { id }, data: { technicianId: other.id } })
  expect((await answer(id, METER)).statusCode).toBe(403)
  expect((await answer(id, METER, other)).statusCode).toBe(200)
  expect((await answer(id, METER, office)).statusCode).toBe(200)
})

test('who may not fill it learns nothing from what another request left in memory', async () => {
  const { id } = await buildRead()
  const refused = await answer(id, METER, other)
  expect(refused.statusCode).toBe(403)
  expect(await db.answer.count({ where: { inspectionId: id, answeredById: other.id } })).toBe(0)
})
