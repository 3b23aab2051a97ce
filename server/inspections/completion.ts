import type { Day } from '../../trade/dates.ts'
import { equipmentDates } from '../../trade/follow-ups/equipment-dates.ts'
import { policyWith } from '../../trade/follow-ups/policy.ts'
import { type FindingState, isClosed, stateAfterReview } from '../../trade/inspection/finding-states.ts'
import { theUser } from '../accounts/service.ts'
import { audit } from '../audit/store.ts'
import type { Ctx } from '../ctx.ts'
import type { Db } from '../db.ts'
import { Problem } from '../errors.ts'
import { planFollowUps } from '../follow-ups/service.ts'
import { newId } from '../ids.ts'
import { findDatePolicy } from '../properties/equipment-store.ts'
import { dayInZone, fromDay } from '../time.ts'
import { insertAnswers } from './answer-store.ts'
import * as store from './completion-store.ts'
import { impliedOf, openOf, readWhole, type WholeInspection } from './record.ts'
import type { CompletedView } from './schema.ts'
import { getInspection, type Inspection, lockInspection, updateInspection } from './store.ts'
import { believable, checkMayFill, checkOpen } from './writing.ts'

/**
 * Completes an inspection that the caller holds, with all that follows from it: implied answers, states of earlier
 * findings, dates of what was looked at, the home, the visit and the follow-ups.
 * @throws Problem inspection-incomplete with what is still open
 */
export async function completeInspection(ctx: Ctx, tx: Db, inspection: Inspection, at: Date): Promise<void> {
  const whole = await readWhole(tx, inspection)
  const open = openOf(whole)
  if (open.length > 0) throw incomplete(open)
  const now = ctx.now()
  const done = believable(at, now, inspection.startedAt)
  const on = dayInZone(done, inspection.timeZone)

  await writeImplied(ctx, tx, whole, done)
  await settleCarried(tx, whole, on, now)
  await store.saveEquipmentDates(tx, now, await datesOfLookedAt(tx, whole, on))
  await store.markInspected(tx, inspection.propertyId, on, now)
  await store.finishVisit(tx, inspection.visitId, done, now)
  await updateInspection(tx, inspection.id, now, {
    state: 'completed',
    completedAt: done,
    completedOn: fromDay(on),
  })
  await planFollowUps(ctx, tx, inspection.propertyId)
  await audit(ctx, tx, {
    action: 'inspection.complete',
    subjectKind: 'inspection',
    subjectId: inspection.id,
    after: { completedOn: on, findings: whole.written.findings.length },
  })
}

export function incomplete(open: readonly { text: string }[]): Problem {
  const things = open.length === 1 ? 'One thing is' : `${open.length} things are`
  return new Problem('inspection-incomplete', `${things} still open. First: ${open[0]!.text}`, { open })
}

async function writeImplied(ctx: Ctx, tx: Db, whole: WholeInspection, at: Date): Promise<void> {
  const answers = impliedOf(whole).map((answer) => ({
    id: newId(),
    itemId: answer.itemId,
    subjectKind: answer.subjectKind,
    subjectId: answer.subjectId,
    result: answer.result,
    notReachedReason: answer.notReachedReason ?? null,
    note: answer.note ?? '',
  }))
  if (answers.length > 0) {
    await insertAnswers(tx, whole.inspection.id, answers, { answeredById: theUser(ctx).id, answeredAt: at })
  }
}

async function settleCarried(tx: Db, { carried, written }: WholeInspection, on: Day, now: Date) {
  for (const review of written.reviews) {
    const finding = carried.find((each) => each.id === review.findingId)
    const state = finding && stateAfterReview(finding.state as FindingState, review.outcome)
    if (!finding || !state || state === finding.state) continue
    await store.settleFinding(tx, finding.id, { state, closedOn: isClosed(state) ? on : null }, now)
  }
}

/** What was answered as seen was looked at today; its dates are worked out anew from that. */
async function datesOfLookedAt(tx: Db, whole: WholeInspection, on: Day): Promise<store.LookedAt[]> {
  const { policy, isUs } = await findDatePolicy(tx, whole.inspection.propertyId)
  const seen = new Set(
    whole.written.answers
      .filter(({ result }) => result === 'ok' || result === 'finding')
      .map(({ subjectId }) => subjectId),
  )
  return whole.record.home.equipment
    .filter(({ id }) => seen.has(id))
    .map((each) => {
      const dates = equipmentDates({ ...each, lastCheckedOn: on }, on, { policy: policyWith(policy), isUs })
      return {
        id: each.id,
        lastCheckedOn: on,
        replaceBy: dates.replaceBy,
        replaceByAssumed: dates.assumed,
        nextCheckOn: dates.nextCheckOn,
      }
    })
}

/** From a desk. */
export async function complete(ctx: Ctx, id: string): Promise<CompletedView> {
  const inspection = await ctx.db.$transaction(async (tx) => {
    const held = await lockInspection(tx, id)
    checkMayFill(ctx, held)
    checkOpen(held)
    await completeInspection(ctx, tx, held, ctx.now())
    return getInspection(tx, id)
  })
  await ctx.enqueue('notify-household', { propertyId: inspection.propertyId })
  return completedView(inspection)
}

/** Opens a completed inspection again, to mend or to take in what another device still held. */
export async function reopen(ctx: Ctx, id: string): Promise<CompletedView> {
  return ctx.db.$transaction(async (tx) => {
    const held = await lockInspection(tx, id)
    checkMayFill(ctx, held)
    if (held.state !== 'completed') {
      const why =
        held.state === 'open' ? 'It is open already.' : 'Its report has been issued: issue a corrected one.'
      throw new Problem('wrong-state', why, { state: held.state })
    }
    await updateInspection(tx, id, ctx.now(), { state: 'open', completedAt: null, completedOn: null })
    await audit(ctx, tx, { action: 'inspection.reopen', subjectKind: 'inspection', subjectId: id })
    return completedView(await getInspection(tx, id))
  })
}

function completedView({ id, version, state, completedAt, completedOn }: Inspection): CompletedView {
  return { id, version, state, completedAt: completedAt?.toISOString() ?? null, completedOn }
}
