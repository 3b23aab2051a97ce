import type { Ctx } from '../ctx.ts'
import type { JobQueue } from '../queue.ts'
import { listWaiting } from './sending-store.ts'

const AT_ONCE = 1000

/** Rings for everything that waits to be sent. Whatever the queue lost is found again here. @returns how many */
export async function relayMessages(ctx: Ctx, queue: Pick<JobQueue, 'enqueueMany'>): Promise<number> {
  let total = 0
  let last: { at: Date; id: string } | null = null
  for (;;) {
    const waiting: { id: string; at: Date }[] = await listWaiting(ctx.db, ctx.now(), AT_ONCE, last)
    if (waiting.length === 0) return total
    const taken = await queue.enqueueMany(
      'send-message',
      waiting.map(({ id }) => ({ messageId: id })),
    )
    // The queue is away: a minute later this is tried again.
    if (taken === 0) return total
    total += taken
    last = waiting[waiting.length - 1]!
  }
}
