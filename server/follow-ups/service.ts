import type { Ctx } from '../ctx.ts'
import type { Db } from '../db.ts'
import { expireEstimates } from '../estimates/expiring-store.ts'
import { listDangers } from './danger-store.ts'
import { planDue } from './plan.ts'
import { redateDevices } from './redate.ts'
import type { Danger } from './schema.ts'

/**
 * Brings the follow-ups of one home in line with its records, in the transaction of their change: after an inspection,
 * a device replaced, a finding closed, a visit booked, moved or cancelled.
 */
export async function planFollowUps(ctx: Ctx, tx: Db, propertyId: string): Promise<void> {
  await planDue(ctx, tx, { propertyId })
}

/** All homes: nightly, and when a worker starts. What is due is told by the next round of notices. */
export async function planEverything(ctx: Ctx): Promise<void> {
  const redated = await redateDevices(ctx)
  const expired = await expireEstimates(ctx.db, ctx.now())
  const { opened, ended } = await planDue(ctx, ctx.db, {})
  ctx.log.info({ redated, expired, opened, ended }, 'follow-ups planned')
  await ctx.enqueue('notify-household', {})
}

/** What is unsafe in a home right now: the office sees it before the inspection is over. */
export function readDangers(ctx: Ctx): Promise<Danger[]> {
  return listDangers(ctx.db)
}
