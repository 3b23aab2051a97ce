import type { Ctx } from '../ctx.ts'
import type { Db } from '../db.ts'

type Planner = (ctx: Ctx, tx: Db, scope: { propertyId?: string }) => Promise<void>

/** Each brings the follow-ups of some kinds in line with the records: opens, moves, closes. */
const PLANNERS: readonly Planner[] = []

export async function planDue(ctx: Ctx, tx: Db, scope: { propertyId?: string }): Promise<void> {
  for (const plan of PLANNERS) await plan(ctx, tx, scope)
}
