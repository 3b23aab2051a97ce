import { isOffice } from '../../trade/permissions.ts'
import type { Ctx } from '../ctx.ts'
import type { Db } from '../db.ts'
import { Problem } from '../errors.ts'

/** A technician sees a home from the day a visit there is theirs until this long after it. */
const DAYS_AFTER_VISIT = 400

/** Refuses a technician whom no visit leads to that home. Everybody else passes. */
export async function checkMaySeeHome(ctx: Ctx, db: Db, propertyId: string): Promise<void> {
  const { actor } = ctx
  if (actor.kind === 'system' || (actor.kind === 'user' && isOffice(actor))) return
  if (actor.kind === 'user' && (await hasVisitAt(db, actor.id, propertyId, ctx.now()))) return
  if (actor.kind === 'homeowner' && actor.propertyId === propertyId) return
  throw new Problem('not-allowed', 'You see the homes that you have a visit at; this is none of them.')
}

/** When a technician's view of homes begins: visits from then on count. */
export function seenSince(now: Date): Date {
  return new Date(now.getTime() - DAYS_AFTER_VISIT * 86_400_000)
}

async function hasVisitAt(db: Db, technicianId: string, propertyId: string, now: Date): Promise<boolean> {
  const visit = await db.visit.findFirst({
    where: { technicianId, propertyId, startsAt: { gt: seenSince(now) }, state: { not: 'cancelled' } },
    select: { id: true },
  })
  return visit !== null
}
