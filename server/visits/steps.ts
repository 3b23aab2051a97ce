import { mayWorkOnVisit } from '../../trade/permissions.ts'
import { mayTake, VISIT_STATES, VISIT_STEPS, type VisitStep } from '../../trade/visits.ts'
import { theUser } from '../accounts/service.ts'
import { audit } from '../audit/store.ts'
import type { Ctx } from '../ctx.ts'
import { Problem } from '../errors.ts'
import { settleBooked } from '../estimates/findings-store.ts'
import { planFollowUps } from '../follow-ups/service.ts'
import { moveRequest } from '../requests/store.ts'
import type { VisitView } from './schema.ts'
import * as store from './store.ts'
import { tellCustomer } from './tell.ts'

/** Set off, arrived, done. A step taken twice is taken once: the second gets the visit as it is. */
export function startTravel(ctx: Ctx, id: string): Promise<VisitView> {
  return take(ctx, id, 'start-travel', { travelStartedAt: ctx.now() })
}
export function arrive(ctx: Ctx, id: string): Promise<VisitView> {
  return take(ctx, id, 'arrive', { arrivedAt: ctx.now() })
}
export function finish(ctx: Ctx, id: string): Promise<VisitView> {
  return take(ctx, id, 'finish', { finishedAt: ctx.now() })
}

/** The customer is told, and the request waits again. */
export function cancelVisit(ctx: Ctx, id: string, reason: string): Promise<VisitView> {
  return take(ctx, id, 'cancel', { closedReason: reason }, 'visit-cancelled')
}

/** We stood before a closed door: the customer is told, and the request waits again. */
export function recordNoAccess(ctx: Ctx, id: string, reason: string): Promise<VisitView> {
  return take(ctx, id, 'no-access', { closedReason: reason }, 'visit-no-access')
}

async function take(
  ctx: Ctx,
  id: string,
  step: VisitStep,
  change: Parameters<typeof store.updateVisit>[3],
  told?: 'visit-cancelled' | 'visit-no-access',
): Promise<VisitView> {
  const { visit, message } = await ctx.db.$transaction(async (tx) => {
    const before = await store.getVisit(tx, id)
    if (!mayWorkOnVisit(theUser(ctx), before)) throw new Problem('not-allowed', 'This is not your visit.')
    const { to, from } = VISIT_STEPS[step]
    if (before.state === to) return { visit: before, message: null }
    const rises = told === 'visit-cancelled' ? { sequence: before.sequence + 1 } : {}
    const written = { ...change, ...rises, state: to, updatedAt: ctx.now() }
    if (!mayTake(step, before.state) || !(await store.updateVisit(tx, id, { states: from }, written))) {
      throw wrongState(step, await store.getVisit(tx, id))
    }
    if (told && before.requestId) await moveRequest(tx, before.requestId, 'booked', 'waiting', ctx.now())
    const after = await store.getVisit(tx, id)
    await audit(ctx, tx, { action: `visit.${step}`, subjectKind: 'visit', subjectId: id, before, after })
    if (told) await settleBooked(tx, after.propertyId, ctx.now())
    await planFollowUps(ctx, tx, after.propertyId)
    return {
      visit: after,
      message: told ? await tellCustomer(ctx, tx, told, after, { reason: after.closedReason }) : null,
    }
  })
  if (message) await ctx.enqueue('send-message', { messageId: message })
  return visit
}

function wrongState(step: VisitStep, visit: VisitView): Problem {
  const allowed = VISIT_STEPS[step].from.map((state) => VISIT_STATES[state].toLowerCase()).join(' or ')
  return new Problem(
    'wrong-state',
    `You can ${VISIT_STEPS[step].words} only while a visit is ${allowed}; this one is ${VISIT_STATES[visit.state].toLowerCase()}.`,
    { state: visit.state },
  )
}
