import type { Ctx } from '../ctx.ts'
import type { JobQueue } from '../queue.ts'
import { countWaiting } from './sending-store.ts'

/** Messages that one round of sending takes in hand. */
export const AT_ONCE = 50
/** Rounds that one sweep rings for; the next sweep, a minute later, rings for more. */
const MOST_ROUNDS = 2000

/** Rings for everything that waits to be sent. Whatever the queue lost is found again here. @returns how many wait */
export async function relayMessages(ctx: Ctx, queue: Pick<JobQueue, 'enqueueMany'>): Promise<number> {
  const waiting = await countWaiting(ctx.db, ctx.now(), AT_ONCE * MOST_ROUNDS)
  const rounds = Math.ceil(waiting / AT_ONCE)
  await queue.enqueueMany(
    'send-waiting',
    Array.from({ length: rounds }, (_, part) => ({ part })),
  )
  return waiting
}
