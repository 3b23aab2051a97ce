import { recordedAgain } from '../../trade/inspection/recorded-twice.ts'
import { theUser } from '../accounts/service.ts'
import type { Ctx } from '../ctx.ts'
import type { Db } from '../db.ts'
import { Problem } from '../errors.ts'
import { findAlternative, markChosen } from '../inspections/alternative-store.ts'
import { answerItem, clearAnswer } from '../inspections/answers.ts'
import { completeInspection } from '../inspections/completion.ts'
import { refuseMakeSafe, removeFinding, reviewCarried, saveFinding } from '../inspections/findings.ts'
import {
  addEquipment,
  addSpace,
  changeEquipment,
  changeSpace,
  retireEquipment,
} from '../inspections/home-changes.ts'
import type { HomeCache } from '../inspections/home-cache.ts'
import { declineWork } from '../inspections/signatures.ts'
import { DESK, findBegunAs, findLastWriter, insertOperation } from '../inspections/operation-store.ts'
import { beginInspection } from '../inspections/starting.ts'
import { findAndLock, type Inspection, lockInspection, updateInspection } from '../inspections/store.ts'
import {
  believable,
  checkMayFill,
  checkOpen,
  type Effect,
  type Writing,
  writtenElsewhere,
} from '../inspections/writing.ts'
import { describePhoto, removePhotoOfDevice } from '../photos/said.ts'
import { type Command, type FieldOperation, operationSchema, type PayloadOf } from './operation-schema.ts'

/** What an operation came to, and which inspection it went to in the end. */
export interface Applied extends Effect {
  inspectionId: string
  propertyId: string
  completed: boolean
}

/** After these, the home has to be read again. */
const CHANGES_THE_HOME: ReadonlySet<Command> = new Set([
  'add-space',
  'change-space',
  'add-equipment',
  'change-equipment',
  'retire-equipment',
  'complete-inspection',
])

/** Does what one operation says, in its transaction.
 *  @throws Problem when it cannot be done */
export async function apply(
  ctx: Ctx,
  tx: Db,
  operation: FieldOperation,
  deviceId: string,
  homes: HomeCache,
): Promise<Applied> {
  if (operation.command === 'start-inspection') return start(ctx, tx, operation)
  const inspection = await hold(tx, operation.inspectionId)
  checkMayFill(ctx, inspection)
  if (!isKeeping(operation)) checkOpen(inspection)
  const at = believable(new Date(operation.at), ctx.now(), inspection.startedAt)
  const writing = { inspection, at, base: operation.base ?? null, deviceId, homes }
  const effect = await carryOut(ctx, tx, writing, operation)
  if (CHANGES_THE_HOME.has(operation.command) || effect.changes) homes.forget()
  return {
    ...effect,
    inspectionId: inspection.id,
    propertyId: inspection.propertyId,
    completed: operation.command === 'complete-inspection',
  }
}

/** Leaves everything as it is, so that it may be said after the completion, too. */
const isKeeping = (operation: FieldOperation) =>
  operation.command === 'choose-recorded' && operation.payload.choice === 'keep'

/** The device's own id for an inspection that another device had begun stands for that one. */
async function hold(tx: Db, id: string): Promise<Inspection> {
  const held = await findAndLock(tx, id)
  if (held) return held
  return lockInspection(tx, (await findBegunAs(tx, id)) ?? id)
}

type Started = Extract<FieldOperation, { command: 'start-inspection' }>

async function start(ctx: Ctx, tx: Db, operation: Started): Promise<Applied> {
  const { visitId } = operation.payload
  const at = new Date(operation.at)
  const inspection = await beginInspection(ctx, tx, { id: operation.inspectionId, visitId, at })
  const isOther = inspection.id !== operation.inspectionId
  if (isOther) await pointTo(ctx, tx, operation, inspection.id)
  return {
    subject: 'inspection',
    version: inspection.version,
    superseded: isOther ? { kind: 'inspection', record: { id: inspection.id }, by: null } : null,
    inspectionId: inspection.id,
    propertyId: inspection.propertyId,
    completed: false,
  }
}

/** What the device sends under its own id finds the inspection that there was. */
async function pointTo(ctx: Ctx, tx: Db, operation: Started, inspectionId: string): Promise<void> {
  await insertOperation(tx, {
    id: operation.inspectionId,
    inspectionId,
    userId: theUser(ctx).id,
    deviceId: DESK,
    command: 'start-inspection',
    payload: { subject: 'inspection', payload: operation.payload },
    outcome: 'applied',
    problem: null,
    receivedAt: ctx.now(),
  })
}

type Later = Exclude<FieldOperation, Started>

function carryOut(ctx: Ctx, tx: Db, writing: Writing, operation: Later): Promise<Effect> {
  switch (operation.command) {
    case 'answer-item':
      return answerItem(ctx, tx, writing, operation.payload)
    case 'clear-answer':
      return clearAnswer(ctx, tx, writing, operation.payload)
    case 'save-finding':
      return saveFinding(ctx, tx, writing, operation.payload)
    case 'remove-finding':
      return removeFinding(ctx, tx, writing, operation.payload)
    case 'refuse-make-safe':
      return refuseMakeSafe(ctx, tx, writing, operation.payload)
    case 'review-carried':
      return reviewCarried(ctx, tx, writing, operation.payload)
    case 'add-space':
      return addSpace(ctx, tx, writing, operation.payload)
    case 'change-space':
      return changeSpace(ctx, tx, writing, operation.payload)
    case 'add-equipment':
      return addEquipment(ctx, tx, writing, operation.payload)
    case 'change-equipment':
      return changeEquipment(ctx, tx, writing, operation.payload)
    case 'retire-equipment':
      return retireEquipment(ctx, tx, writing, operation.payload)
    case 'decline-work':
      return declineWork(ctx, tx, writing, operation.payload)
    case 'describe-photo':
      return describePhoto(ctx, tx, writing, operation.payload)
    case 'remove-photo':
      return removePhotoOfDevice(ctx, tx, writing, operation.payload)
    case 'note-inspection':
      return note(ctx, tx, writing, operation.payload.note)
    case 'choose-recorded':
      return choose(ctx, tx, writing, operation)
    case 'complete-inspection':
      return complete(ctx, tx, writing)
  }
}

/**
 * Somebody chose between two that were recorded for the same thing. Putting the other one back is recording it once
 * more: the same checks, the same rules, and what it replaces unseen is offered in turn.
 */
async function choose(
  ctx: Ctx,
  tx: Db,
  writing: Writing,
  operation: Extract<Later, { command: 'choose-recorded' }>,
): Promise<Effect> {
  const { alternativeId, choice }: PayloadOf<'choose-recorded'> = operation.payload
  const kept = await findAlternative(tx, writing.inspection.id, alternativeId)
  if (!kept)
    throw new Problem('not-found', 'There is nothing to choose: this inspection has no such other recording.')
  const nothing: Effect = { subject: `alternative:${alternativeId}`, version: null, superseded: null }
  if (kept.choice === 'use' || kept.choice === choice) return nothing
  await markChosen(tx, alternativeId, { choice, chosenById: theUser(ctx).id, chosenAt: ctx.now() })
  if (choice === 'keep') return nothing
  const { command, payload } = recordedAgain(kept.kind, kept.record)
  const again = operationSchema.safeParse({ ...operation, command, payload })
  if (!again.success) {
    throw new Problem('wrong-state', 'It cannot be put back as it was recorded; record it anew.')
  }
  const last = await findLastWriter(tx, writing.inspection.id, kept.subject)
  const effect = await carryOut(ctx, tx, writing, again.data as Later)
  // Whoever chooses has both before them: what stood there is offered only when it came after the other two.
  if (last?.id === kept.id) effect.superseded = null
  const changes = payload['changes'] as Effect['changes']
  return { ...effect, ...(changes && { changes }) }
}

async function note(ctx: Ctx, tx: Db, writing: Writing, text: string): Promise<Effect> {
  const { inspection } = writing
  const replaces = inspection.note !== '' && inspection.note !== text
  const elsewhere = replaces
    ? await writtenElsewhere(ctx, tx, { ...writing, base: null }, 'note', inspection)
    : null
  await updateInspection(tx, inspection.id, ctx.now(), { note: text })
  return {
    subject: 'note',
    version: null,
    superseded: elsewhere && { kind: 'note', record: { note: inspection.note }, by: elsewhere.by },
  }
}

async function complete(ctx: Ctx, tx: Db, { inspection, at }: Writing): Promise<Effect> {
  await completeInspection(ctx, tx, inspection, at)
  return { subject: 'inspection', version: inspection.version + 1, superseded: null }
}
