import type { Db } from '../db.ts'

/** Moves each domain's next free moment on. In one order, so that two workers never wait for each other. Never by more
 *  than a day: a clock that was set wrong for a while must not close a domain for a year. */
export function reserveTurns(db: Db, from: Date, asked: readonly { domain: string; ms: number }[]) {
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
