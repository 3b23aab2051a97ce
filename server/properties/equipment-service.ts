import { type Day, day } from '../../trade/dates.ts'
import { dayInWords } from '../../trade/day-in-words.ts'
import { type Equipment, EQUIPMENT_KINDS } from '../../trade/equipment.ts'
import { equipmentDates } from '../../trade/follow-ups/equipment-dates.ts'
import { policyWith } from '../../trade/follow-ups/policy.ts'
import { audit } from '../audit/store.ts'
import type { Ctx } from '../ctx.ts'
import type { Db } from '../db.ts'
import { invalid, Problem } from '../errors.ts'
import { planFollowUps } from '../follow-ups/service.ts'
import { newId } from '../ids.ts'
import { fromDay } from '../time.ts'
import { changedMeanwhile } from '../versions.ts'
import {
  type ChangeEquipmentBody,
  detailsSchemas,
  type EquipmentView,
  type NewEquipmentBody,
  type ReplacedView,
  type ReplaceEquipmentBody,
  type RetireEquipmentBody,
} from './equipment-schema.ts'
import * as store from './equipment-store.ts'
import { checkMaySeeHome } from './scope.ts'

/** What the dates are worked out from: the record as it is about to be stored. */
type Dated = Pick<
  EquipmentView,
  'kind' | 'label' | 'details' | 'spaceId' | 'parentId' | 'manufacturedOn' | 'installedOn' | 'lastCheckedOn'
> & { retiredOn?: string | null }

export async function addEquipment(ctx: Ctx, propertyId: string, input: NewEquipmentBody) {
  return ctx.db.$transaction(async (tx) => {
    await checkMaySeeHome(ctx, tx, propertyId)
    const equipment = await createEquipment(ctx, tx, propertyId, input)
    await planFollowUps(ctx, tx, propertyId)
    return equipment
  })
}

/**
 * Puts an installed thing on record with its dates, in the caller's transaction, who plans the follow-ups. The same id
 * again is the same thing, left as it is.
 */
export async function createEquipment(
  ctx: Ctx,
  tx: Db,
  propertyId: string,
  input: NewEquipmentBody,
): Promise<EquipmentView> {
  const id = input.id ?? newId()
  await checkPlaces(tx, propertyId, input.spaceId, input.parentId)
  checkPast(await todayAt(ctx, tx, propertyId), input)
  const label = input.label || EQUIPMENT_KINDS[input.kind]
  const isNew = await store.insertEquipment(tx, {
    ...columns({ ...input, label }),
    ...(await datesOf(ctx, tx, propertyId, { ...input, label })),
    id,
    propertyId,
    kind: input.kind,
    createdAt: ctx.now(),
    updatedAt: ctx.now(),
  })
  const equipment = await store.getEquipment(tx, id)
  if (equipment.propertyId !== propertyId) {
    throw new Problem('already-exists', 'Equipment of another home has that id; make a new one.')
  }
  if (isNew) {
    await audit(ctx, tx, {
      action: 'equipment.add',
      subjectKind: 'equipment',
      subjectId: id,
      after: equipment,
    })
  }
  return equipment
}

export async function changeEquipment(
  ctx: Ctx,
  id: string,
  seen: number,
  { kind, ...change }: ChangeEquipmentBody,
): Promise<EquipmentView> {
  return ctx.db.$transaction(async (tx) => {
    const before = await store.getEquipment(tx, id)
    await checkMaySeeHome(ctx, tx, before.propertyId)
    if (kind !== before.kind) {
      throw invalid({ pointer: '#/kind', detail: `this is a ${before.kind}; a kind cannot change` })
    }
    const label = change.label === '' ? EQUIPMENT_KINDS[kind] : (change.label ?? before.label)
    checkPast(await todayAt(ctx, tx, before.propertyId), change)
    const whole = { ...before, ...change, label }
    await checkPlaces(tx, before.propertyId, whole.spaceId, whole.parentId, id)
    const after = await save(ctx, tx, before, seen, whole, 'equipment.change')
    await planFollowUps(ctx, tx, before.propertyId)
    return after
  })
}

/** Out of use: kept for the history, left out of every judgement and every reminder. */
export async function retireEquipment(
  ctx: Ctx,
  id: string,
  seen: number,
  { reason, retiredOn }: RetireEquipmentBody,
): Promise<EquipmentView> {
  return ctx.db.$transaction(async (tx) => {
    const before = await store.getEquipment(tx, id)
    await checkMaySeeHome(ctx, tx, before.propertyId)
    const after = await retire(ctx, tx, before, seen, { reason, retiredOn, replacedById: null })
    await planFollowUps(ctx, tx, before.propertyId)
    return after
  })
}

export async function replaceEquipment(
  ctx: Ctx,
  id: string,
  seen: number,
  input: ReplaceEquipmentBody,
): Promise<ReplacedView> {
  return ctx.db.$transaction(async (tx) => {
    const before = await store.getEquipment(tx, id)
    await checkMaySeeHome(ctx, tx, before.propertyId)
    const replaced = await putInPlaceOf(ctx, tx, before, seen, input)
    await planFollowUps(ctx, tx, before.propertyId)
    return replaced
  })
}

/** The new thing in the old one's place, in the caller's transaction, who plans the follow-ups. */
export async function putInPlaceOf(
  ctx: Ctx,
  tx: Db,
  before: EquipmentView,
  seen: number,
  input: ReplaceEquipmentBody,
): Promise<ReplacedView> {
  if (before.replacedById && before.replacedById === input.id) {
    return { retired: before, replacement: await store.getEquipment(tx, input.id) }
  }
  const replacedOn = input.replacedOn ?? (await todayAt(ctx, tx, before.propertyId))
  const replacement = await createEquipment(ctx, tx, before.propertyId, {
    id: input.id,
    kind: before.kind,
    label: input.label ?? before.label,
    spaceId: before.spaceId,
    parentId: before.parentId,
    details: checkDetails(before.kind, input.details),
    manufacturedOn: input.manufacturedOn,
    installedOn: replacedOn,
    lastCheckedOn: null,
  })
  const retired = await retire(ctx, tx, before, seen, {
    reason: input.reason,
    retiredOn: replacedOn,
    replacedById: replacement.id,
  })
  await store.moveParts(tx, before.id, replacement.id)
  return { retired, replacement }
}

export async function retire(
  ctx: Ctx,
  tx: Db,
  before: EquipmentView,
  seen: number,
  how: { reason: string; retiredOn: string | undefined; replacedById: string | null },
): Promise<EquipmentView> {
  if (before.retiredOn) {
    throw new Problem(
      'wrong-state',
      `It has been out of use since ${dayInWords(day(before.retiredOn), 'en')}.`,
    )
  }
  const retiredOn = how.retiredOn ?? (await todayAt(ctx, tx, before.propertyId))
  return save(ctx, tx, before, seen, { ...before, retiredOn }, 'equipment.retire', {
    retiredOn: fromDay(retiredOn as Day),
    retiredReason: how.reason,
    replacedById: how.replacedById,
  })
}

export async function save(
  ctx: Ctx,
  tx: Db,
  before: EquipmentView,
  seen: number,
  whole: Dated,
  action: string,
  more: Parameters<typeof store.updateEquipment>[3] = {},
): Promise<EquipmentView> {
  const stored = await store.updateEquipment(tx, before.id, seen, {
    ...columns(whole),
    ...(await datesOf(ctx, tx, before.propertyId, whole)),
    ...more,
    updatedAt: ctx.now(),
  })
  const after = await store.getEquipment(tx, before.id)
  if (!stored) throw changedMeanwhile(seen, after)
  await audit(ctx, tx, { action, subjectKind: 'equipment', subjectId: before.id, before, after })
  return after
}

const columns = (of: Dated) => ({
  label: of.label,
  spaceId: of.spaceId,
  parentId: of.parentId,
  details: of.details as Record<string, string | number | boolean>,
  manufacturedOn: fromDay(of.manufacturedOn as Day | null),
  installedOn: fromDay(of.installedOn as Day | null),
  lastCheckedOn: fromDay(of.lastCheckedOn as Day | null),
})

/** Last day of service and next check, as the rules see them today. */
async function datesOf(ctx: Ctx, tx: Db, propertyId: string, of: Dated) {
  const { timeZone, isUs, policy } = await store.findDatePolicy(tx, propertyId)
  const equipment = { id: '', retiredOn: null, ...of } as unknown as Equipment
  const dates = equipmentDates(equipment, ctx.today(timeZone), { policy: policyWith(policy), isUs })
  return {
    replaceBy: fromDay(dates.replaceBy),
    replaceByAssumed: dates.assumed,
    nextCheckOn: fromDay(dates.nextCheckOn),
  }
}

const PAST = {
  manufacturedOn: 'made',
  installedOn: 'installed',
  lastCheckedOn: 'looked at',
} as const

/** A date read wrong would keep a worn-out device silent for years, so it is asked about at once. */
function checkPast(today: Day, given: { [Field in keyof typeof PAST]?: string | null | undefined }): void {
  const ahead = (Object.keys(PAST) as (keyof typeof PAST)[]).filter((field) => (given[field] ?? '') > today)
  if (ahead.length === 0) return
  throw invalid(
    ...ahead.map((field) => ({
      pointer: `#/${field}`,
      detail: `it cannot have been ${PAST[field]} on ${dayInWords(day(given[field]!), 'en')}, a day still to come; read the date again`,
    })),
  )
}

async function todayAt(ctx: Ctx, tx: Db, propertyId: string): Promise<Day> {
  return ctx.today((await store.findDatePolicy(tx, propertyId)).timeZone)
}

/** @throws Problem invalid-request, naming each detail that does not fit the kind */
export function checkDetails(kind: EquipmentView['kind'], details: Record<string, unknown>) {
  const checked = detailsSchemas[kind].safeParse(details)
  if (checked.success) return checked.data
  throw invalid(
    ...checked.error.issues.map((issue) => ({
      pointer: `#/details/${issue.path.join('/')}`,
      detail: issue.message,
    })),
  )
}

/** A space and a parent must be of the same home, and nothing may hang on itself. */
export async function checkPlaces(
  tx: Db,
  propertyId: string,
  spaceId: string | null,
  parentId: string | null,
  id?: string,
): Promise<void> {
  const { space, parent } = await store.findPlaces(tx, propertyId, spaceId, parentId)
  if (spaceId && !space) throw invalid({ pointer: '#/spaceId', detail: 'this home has no such space' })
  if (parentId && !parent) throw invalid({ pointer: '#/parentId', detail: 'this home has no such equipment' })
  if (id && parentId && (await store.isBelow(tx, parentId, id))) {
    throw invalid({ pointer: '#/parentId', detail: 'it would hang on itself' })
  }
}
