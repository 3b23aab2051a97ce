import type { Ctx } from '../ctx.ts'
import type { Db } from '../db.ts'
import { measure } from './measure-store.ts'
import { closeEnded, openDue, restWhileBooked } from './plan-store.ts'
import { getPolicy } from './policy.ts'

export interface Planned {
  opened: number
  ended: number
}

/** From so many opened at once on the tables are measured anew. */
const MANY = 1000

/** Brings the follow-ups of one home, or of all, in line with the records: ends, opens, moves, lets rest. */
export async function planDue(
  ctx: Ctx,
  db: Db,
  scope: { propertyId?: string | undefined },
): Promise<Planned> {
  const run = { policy: await getPolicy(db), now: ctx.now(), propertyId: scope.propertyId }
  const ended = await closeEnded(db, run)
  const opened = await openDue(db, run)
  if (opened >= MANY) await measure(db)
  await restWhileBooked(db, run)
  return { opened, ended }
}
