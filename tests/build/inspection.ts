import { expect } from 'vitest'
import { findItem } from '../../trade/checklist/checklist.ts'
import type { Ctx } from '../../server/ctx.ts'
import type {
  FieldOperationInput,
  OperationOutcome,
  OperationsResult,
} from '../../server/field/operation-schema.ts'
import { newId } from '../../server/ids.ts'
import type { InspectionView } from '../../server/inspections/schema.ts'
import type { TestPerson } from './app.ts'
import { buildEquipment, buildProperty } from './property.ts'

let slot = 0

/** A visit of that technician; each takes an hour of its own, so that none overlap. */
export async function buildVisit(
  { db, now }: Ctx,
  technicianId: string,
  property: { id: string; customerId: string },
  more: { startsAt?: Date; state?: string; kind?: string } = {},
) {
  const startsAt = more.startsAt ?? new Date(now().getTime() + ++slot * 3_600_000)
  return db.visit.create({
    data: {
      id: newId(),
      propertyId: property.id,
      customerId: property.customerId,
      technicianId,
      kind: more.kind ?? 'inspection',
      state: more.state ?? 'booked',
      windowStartsAt: startsAt,
      windowEndsAt: new Date(startsAt.getTime() + 7_200_000),
      startsAt,
      lengthMinutes: 60,
      endsAt: new Date(startsAt.getTime() + 3_600_000),
    },
  })
}

/** A small home with a service, a panel with one circuit that is wrong, and an old alarm. */
export async function buildInspectableHome(ctx: Ctx, more: Record<string, unknown> = {}) {
  const [hall, kitchen] = [newId(), newId()]
  const property = await buildProperty(ctx, {
    yearBuilt: 1978,
    levels: 1,
    fuels: ['electric'],
    hasGasPiping: false,
    garage: 'none',
    spaces: [
      { id: hall, kind: 'hall', name: 'Hall' },
      { id: kitchen, kind: 'kitchen', name: 'Kitchen' },
    ],
    ...more,
  })
  const panel = await buildEquipment(ctx, property.id, {
    kind: 'panel',
    label: 'Hall panel',
    spaceId: hall,
    details: { role: 'service', busAmps: 100, mainAmps: 100, positions: 20 },
  })
  const circuit = await buildEquipment(ctx, property.id, {
    kind: 'circuit',
    label: 'Circuit 4',
    parentId: panel.id,
    details: {
      position: 4,
      poles: 1,
      ratingAmps: 30,
      device: 'breaker',
      material: 'copper',
      size: '14',
      wiring: 'nm',
      serves: 'receptacles',
    },
  })
  const alarm = await buildEquipment(ctx, property.id, {
    kind: 'alarm',
    label: 'Hall alarm',
    spaceId: hall,
    details: { senses: 'smoke', power: 'battery' },
    manufacturedOn: '2014-03-01',
  })
  return { property, hall, kitchen, panel, circuit, alarm }
}

/** A technician's device: makes ids, sends operations. */
export function buildDevice(person: TestPerson, deviceId: string = newId()) {
  const send = async (operations: unknown[]): Promise<OperationOutcome[]> => {
    const answer = await person.call('POST', '/api/v1/field/operations', {
      payload: { deviceId, operations },
    })
    expect(answer.statusCode, answer.body).toBe(200)
    return answer.json<OperationsResult>().outcomes
  }
  return {
    id: deviceId,
    send,
    /** Sends them and expects that each was applied. */
    apply: async (operations: FieldOperationInput[]): Promise<OperationOutcome[]> => {
      const outcomes: OperationOutcome[] = []
      for (let from = 0; from < operations.length; from += 200) {
        outcomes.push(...(await send(operations.slice(from, from + 200))))
      }
      for (const outcome of outcomes)
        expect(outcome, JSON.stringify(outcome.problem)).toMatchObject({ outcome: 'applied' })
      return outcomes
    },
  }
}

/** One operation, with what every operation carries. */
export function operation<Command extends FieldOperationInput['command']>(
  command: Command,
  inspectionId: string,
  payload: Extract<FieldOperationInput, { command: Command }>['payload'],
  more: { id?: string; at?: string; base?: number } = {},
): FieldOperationInput {
  return {
    id: newId(),
    at: '2026-06-01T15:00:00Z',
    inspectionId,
    command,
    payload,
    ...more,
  } as FieldOperationInput
}

export async function readInspection(person: TestPerson, id: string): Promise<InspectionView> {
  const answer = await person.call('GET', `/api/v1/inspections/${id}`)
  expect(answer.statusCode, answer.body).toBe(200)
  return answer.json<InspectionView>()
}

/** Readings without which an item does not stand, with a value that the item takes. */
export function requiredReadings(itemId: string): Record<string, unknown> {
  const item = findItem(itemId)!
  return Object.fromEntries(
    (item.required ?? []).map((name) => {
      const field = item.readings[name]!
      return [name, field.type === 'choice' ? Object.keys(field.options)[0]! : true]
    }),
  )
}

/** An answer to every line that has none: nothing recorded → absent, the rest sound. */
export function answersFor(inspection: InspectionView): FieldOperationInput[] {
  const given = new Set(inspection.answers.map((each) => `${each.itemId}@${each.subjectId ?? 'home'}`))
  return inspection.lines
    .filter((line) => !given.has(line.key))
    .map(({ itemId, subjectKind, subjectId, noneRecorded }) =>
      operation('answer-item', inspection.id, {
        itemId,
        subjectKind: subjectKind as 'home',
        subjectId,
        result: noneRecorded ? 'absent' : 'ok',
        readings: noneRecorded ? {} : requiredReadings(itemId),
      }),
    )
}

/** The same answers written straight into the database: for tests that begin where the field sheet ends. */
async function storeAnswers({ db, now }: Ctx, inspection: InspectionView): Promise<void> {
  await db.answer.createMany({
    data: answersFor(inspection).map(({ payload }) => ({
      ...(payload as {
        itemId: string
        subjectKind: string
        subjectId: string | null
        result: string
        readings: object
      }),
      id: newId(),
      inspectionId: inspection.id,
      answeredById: inspection.technicianId,
      answeredAt: now(),
    })),
  })
}

/** An inspection begun on a visit of its own, at a home of its own. */
export async function buildInspection(ctx: Ctx, technician: TestPerson) {
  const home = await buildInspectableHome(ctx)
  const visit = await buildVisit(ctx, technician.id, home.property)
  const device = buildDevice(technician)
  const id = newId()
  await device.apply([operation('start-inspection', id, { visitId: visit.id })])
  return { id, ...home, visit, device }
}

/** The same, with every line answered and a finding or two, completed. */
export async function buildCompletedInspection(ctx: Ctx, technician: TestPerson) {
  const built = await buildInspection(ctx, technician)
  const { id, device, circuit, alarm } = built
  const findings = { breaker: newId(), alarm: newId() }
  await device.apply([
    operation('answer-item', id, {
      itemId: 'panel-cover-off.circuit',
      subjectKind: 'equipment',
      subjectId: circuit.id,
      result: 'finding',
      note: 'Breaker too large for the wire',
    }),
    operation('save-finding', id, {
      findingId: findings.breaker,
      itemId: 'panel-cover-off.circuit',
      equipmentId: circuit.id,
      severity: 'unsafe',
      text: 'A 30 A breaker protects 14 AWG copper wire. The wire can overheat before the breaker trips.',
      correction: 'Replace the breaker with one of 15 A.',
      makeSafe: 'Breaker switched off and tagged.',
    }),
    operation('save-finding', id, {
      findingId: findings.alarm,
      itemId: 'alarms.device',
      equipmentId: alarm.id,
      severity: 'repair',
      text: 'The hall smoke alarm is past its ten years.',
      correction: 'Replace the alarm.',
    }),
  ])
  await storeAnswers(ctx, await readInspection(technician, id))
  await device.apply([operation('complete-inspection', id, {})])
  return { ...built, findings }
}
