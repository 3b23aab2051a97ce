import { allEnded } from '../all-ended.ts'
import type { Ctx } from '../ctx.ts'
import type { Db } from '../db.ts'
import { measure } from './measure-store.ts'
import { closeEnded, openDue, type PlanRun, restWhileBooked } from './plan-store.ts'
import { getPolicy } from './policy.ts'

export interface Planned {
  opened: number
  ended: number
}

const HALVES = [0, 1] as const
/** From so many opened at once on the tables are measured anew. */
const MANY = 1000

/** Brings the follow-ups of one home, or of all, in line with the records: ends, opens, moves, lets rest. */
export async function planDue(
  ctx: Ctx,
  db: Db,
  scope: { propertyId?: string | undefined },
): Promise<Planned> {
  const run: PlanRun = { policy: await getPolicy(db), now: ctx.now(), propertyId: scope.propertyId }
  const ended = await closeEnded(db, run)
  // To open is most of a night's planning, and one connection keeps one core busy.
  const parts: PlanRun[] = scope.propertyId ? [run] : HALVES.map((half) => ({ ...run, half }))
  const counts = await allEnded(parts.map((part) => openDue(db, part)))
  const opened = counts.reduce((sum, count) => sum + count, 0)
  if (opened >= MANY) await measure(db)
  await restWhileBooked(db, run)
  return { opened, ended }
}
