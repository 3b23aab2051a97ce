import { setTimeout } from 'node:timers/promises'
import type { Ctx } from '../ctx.ts'
import { isDatabaseAway } from '../db.ts'
import { type LaidDown, release } from './sending-store.ts'

export type Outcome = 'sent' | 'later' | 'failed' | 'bounced' | 'suppressed' | 'cancelled' | 'not-mine'

/** Messages that one worker has taken in hand, and lays down one after the other. */
export interface Hand {
  /** The name on the lease. */
  by: string
  outcomes: Map<string, Outcome>
  /** Returns once it is written down. */
  lay: (message: { id: string }, to: Omit<LaidDown, 'id'>, outcome: Outcome) => Promise<Outcome>
}

/** For so long a mark is tried again while the database is away: what the mail server took must not be forgotten. */
const PATIENCE_MS = 10 * 60_000
const PAUSE_MS = 250
/** So long a mark waits for others. Longer would leave connections idle, and widen the moment in which a crash sends a
 *  second copy. */
const GATHER_MS = 4

/** Marks that come while one is being written go together in the next statement, so that many cost little more than one. */
export function openHand(ctx: Ctx, by: string): Hand {
  const outcomes = new Map<string, Outcome>()
  let waiting: LaidDown[] = []
  let next: Promise<ReadonlySet<string>> | null = null
  let writing: Promise<unknown> = Promise.resolve()

  function laidDown(row: LaidDown): Promise<ReadonlySet<string>> {
    waiting.push(row)
    next ??= writing
      .catch(() => {})
      .then(() => setTimeout(GATHER_MS))
      .then(() => {
        const rows = waiting
        waiting = []
        next = null
        return (writing = persistently(ctx, () => release(ctx.db, by, ctx.now(), rows)))
      }) as Promise<ReadonlySet<string>>
    return next
  }

  return {
    by,
    outcomes,
    lay: ({ id }, to, outcome) => {
      const done = laidDown({ id, ...to }).then((ours) => {
        const became = ours.has(id) ? outcome : 'not-mine'
        outcomes.set(id, became)
        return became
      })
      // Many are laid down while others are written; each is asked for at the end.
      done.catch(() => {})
      return done
    },
  }
}

async function persistently<Result>(ctx: Ctx, write: () => Promise<Result>): Promise<Result> {
  const end = performance.now() + PATIENCE_MS
  for (;;) {
    try {
      return await write()
    } catch (error) {
      if (!isDatabaseAway(error) || performance.now() > end) throw error
      ctx.log.warn({ err: error }, 'the database is away; what was sent is marked when it is back')
      await setTimeout(PAUSE_MS)
    }
  }
}
