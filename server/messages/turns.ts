import type { Ctx } from '../ctx.ts'
import { groupBy } from '../follow-ups/group.ts'
import { reserveTurns } from './turn-store.ts'

/** What may go at once after a quiet time. */
const BURST_MS = 10_000
const MINUTE_MS = 60_000

/**
 * When each letter may go, so that no receiving domain gets more than so many a minute: large mailbox providers put a
 * sender off, or aside, who comes faster. Turns are kept in the database: all workers share them. Ids that are not in
 * the answer may go now.
 */
export async function takeTurns(
  ctx: Ctx,
  letters: readonly { id: string; toAddress: string }[],
): Promise<ReadonlyMap<string, Date>> {
  const later = new Map<string, Date>()
  const perMinute = ctx.env.mailPerDomain
  if (perMinute === 0 || letters.length === 0) return later
  const now = ctx.now()
  const gap = MINUTE_MS / perMinute
  const byDomain = groupBy(letters, ({ toAddress }) => domainOf(toAddress))
  const asked = [...byDomain].map(([domain, those]) => ({ domain, ms: Math.ceil(those.length * gap) }))
  for (const { domain, freeAt, ms } of await reserveTurns(
    ctx.db,
    new Date(now.getTime() - BURST_MS),
    asked,
  )) {
    const first = freeAt.getTime() - ms
    byDomain.get(domain)!.forEach(({ id }, place) => {
      const turn = new Date(first + place * gap)
      if (turn > now) later.set(id, turn)
    })
  }
  return later
}

const domainOf = (address: string) => address.slice(address.lastIndexOf('@') + 1).toLowerCase()
