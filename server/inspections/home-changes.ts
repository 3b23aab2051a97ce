import type { EquipmentKind } from '../../trade/equipment.ts'
import { day } from '../../trade/dates.ts'
import { dayInWords } from '../../trade/day-in-words.ts'
import { audit } from '../audit/store.ts'
import type { Ctx } from '../ctx.ts'
import type { Db } from '../db.ts'
import { invalid, Problem } from '../errors.ts'
import type { PayloadOf } from '../field/operation-schema.ts'
import * as equipment from '../properties/equipment-service.ts'
import { getEquipment } from '../properties/equipment-store.ts'
import * as store from './home-change-store.ts'
import type { Writer } from './operation-store.ts'
import { type Effect, replacedFields, type Writing } from './writing.ts'

// What a technician writes down about the home itself while standing in it. Fields that nobody named stay as they are,
// so that two devices which fill in different fields of one thing merge.

export async function addSpace(
  ctx: Ctx,
  tx: Db,
  { inspection }: Writing,
  { space }: PayloadOf<'add-space'>,
): Promise<Effect> {
  const whole = {
    areaSqFt: null,
    hasSink: null,
    hasTubOrShower: null,
    hasFuelBurner: null,
    sleepingArea: null,
    ...space,
  }
  if (!(await store.insertSpace(tx, inspection.propertyId, whole))) {
    throw new Problem('already-exists', 'There is a room of that id already.')
  }
  await audit(ctx, tx, { action: 'space.add', subjectKind: 'space', subjectId: space.id, after: whole })
  return { subject: `space:${space.id}`, version: 1, superseded: null }
}

export async function changeSpace(
  ctx: Ctx,
  tx: Db,
  writing: Writing,
  { spaceId, changes }: PayloadOf<'change-space'>,
): Promise<Effect> {
  const subject = `space:${spaceId}`
  const before = await store.holdSpace(tx, writing.inspection.propertyId, spaceId)
  const earlier = await replacedFields(ctx, tx, writing, subject, before, changes)
  const { version } = await store.updateSpace(tx, spaceId, changes)
  await audit(ctx, tx, {
    action: 'space.change',
    subjectKind: 'space',
    subjectId: spaceId,
    before,
    after: changes,
  })
  return { subject, version, superseded: offered('space', spaceId, earlier) }
}

export async function addEquipment(
  ctx: Ctx,
  tx: Db,
  { inspection }: Writing,
  { equipment: given }: PayloadOf<'add-equipment'>,
): Promise<Effect> {
  const { version } = await equipment.createEquipment(ctx, tx, inspection.propertyId, {
    label: '',
    spaceId: null,
    parentId: null,
    manufacturedOn: null,
    installedOn: null,
    lastCheckedOn: null,
    ...given,
    details: equipment.checkDetails(given.kind, known(given.details ?? {})),
  })
  return { subject: `equipment:${given.id}`, version, superseded: null }
}

export async function changeEquipment(
  ctx: Ctx,
  tx: Db,
  writing: Writing,
  { equipmentId, changes }: PayloadOf<'change-equipment'>,
): Promise<Effect> {
  const { propertyId } = writing.inspection
  const subject = `equipment:${equipmentId}`
  await store.holdEquipment(tx, propertyId, equipmentId)
  const before = await getEquipment(tx, equipmentId)
  if (before.retiredOn)
    throw new Problem(
      'wrong-state',
      `It has been out of use since ${dayInWords(day(before.retiredOn), 'en')}.`,
    )
  const { details: changedDetails, ...plain } = changes
  const earlier = await replacedFields(
    ctx,
    tx,
    writing,
    subject,
    { ...before, ...before.details },
    { ...plain, ...changedDetails },
  )
  const details = mergedDetails(before.kind, before.details, changedDetails)
  const whole = { ...before, ...changes, label: changes.label || before.label, details }
  await equipment.checkPlaces(tx, propertyId, whole.spaceId, whole.parentId, equipmentId)
  const { version } = await equipment.save(ctx, tx, before, before.version, whole, 'equipment.change')
  return {
    subject,
    version,
    superseded: offered(
      'equipment',
      equipmentId,
      earlier && { ...earlier, changes: nested(earlier.changes) },
    ),
  }
}

export async function retireEquipment(
  ctx: Ctx,
  tx: Db,
  { inspection }: Writing,
  { equipmentId, retiredOn, reason, replacedById }: PayloadOf<'retire-equipment'>,
): Promise<Effect> {
  const { propertyId } = inspection
  await store.holdEquipment(tx, propertyId, equipmentId)
  if (replacedById === equipmentId) {
    throw invalid({ pointer: '#/replacedById', detail: 'a thing cannot take its own place' })
  }
  if (replacedById) await store.holdEquipment(tx, propertyId, replacedById)
  const before = await getEquipment(tx, equipmentId)
  const { version } = await equipment.retire(ctx, tx, before, before.version, {
    reason,
    retiredOn,
    replacedById,
  })
  return { subject: `equipment:${equipmentId}`, version, superseded: null }
}

type Values = Readonly<Record<string, unknown>>

const known = (values: Values): Record<string, unknown> =>
  Object.fromEntries(Object.entries(values).filter(([, value]) => value !== null))

/** Field by field; a null makes a detail unknown again. */
function mergedDetails(kind: EquipmentKind, before: Values, changes: Values | undefined) {
  return changes ? equipment.checkDetails(kind, known({ ...before, ...changes })) : { ...before }
}

const PLAIN = new Set(['label', 'spaceId', 'parentId', 'manufacturedOn', 'installedOn'])

/** Fields as the operation names them: what is no column of equipment is a detail. */
function nested(changes: Values): Values {
  const of = (isPlain: boolean) => Object.entries(changes).filter(([name]) => PLAIN.has(name) === isPlain)
  const details = of(false)
  return {
    ...Object.fromEntries(of(true)),
    ...(details.length > 0 && { details: Object.fromEntries(details) }),
  }
}

const offered = (
  kind: 'space' | 'equipment',
  id: string,
  earlier: { changes: Values; by: Writer } | null,
): Effect['superseded'] => earlier && { kind, record: { id, changes: earlier.changes }, by: earlier.by }
