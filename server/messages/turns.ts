import type { Ctx } from '../ctx.ts'
import type { Db } from '../db.ts'
import { groupBy } from '../follow-ups/group.ts'

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
  for (const { domain, freeAt, ms } of await reserve(ctx.db, new Date(now.getTime() - BURST_MS), asked)) {
    const first = freeAt.getTime() - ms
    byDomain.get(domain)!.forEach(({ id }, place) => {
      const turn = new Date(first + place * gap)
      if (turn > now) later.set(id, turn)
    })
  }
  return later
}

const domainOf = (address: string) => address.slice(address.lastIndexOf('@') + 1).toLowerCase()

/** Moves each domain's next free moment on. In one order, so that two workers never wait for each other. Never by more
 *  than a day: a clock that was set wrong for a while must not close a domain for a year. */
async function reserve(db: Db, from: Date, asked: readonly { domain: string; ms: number }[]) {
  return db.$queryRaw<{ domain: string; freeAt: Date; ms: number }[]>`
    WITH asked AS (
      SELECT domain, ms FROM unnest(${asked.map(({ domain }) => domain)}::text[], ${asked.map(({ ms }) => ms)}::int[])
        AS a(domain, ms) ORDER BY domain
    ), taken AS (
      INSERT INTO receiving_domain AS r (domain, free_at)
      SELECT domain, ${from}::timestamptz + ms * interval '1 millisecond' FROM asked
      ON CONFLICT (domain) DO UPDATE
        SET free_at = least(greatest(r.free_at, ${from}::timestamptz), ${from}::timestamptz + interval '1 day')
                      + (excluded.free_at - ${from}::timestamptz)
      RETURNING domain, free_at)
    SELECT domain, free_at AS "freeAt", ms FROM taken JOIN asked USING (domain)`
}
