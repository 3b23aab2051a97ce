import type { Db } from '../db.ts'

/**
 * Offers whose last day is over at their home run out, and what nobody else offers is open again: in one statement,
 * each with its line in the audit.
 * @returns how many
 */
export async function expireEstimates(db: Db, now: Date): Promise<number> {
  const [row] = await db.$queryRaw<[{ count: number }]>`
    WITH gone AS (
      UPDATE estimate x SET state = 'expired', version = x.version + 1, updated_at = ${now}::timestamptz
        FROM property p
       WHERE p.id = x.property_id AND x.state = 'sent'
         AND x.expires_on < (${now}::timestamptz AT TIME ZONE p.time_zone)::date
      RETURNING x.id),
    released AS (
      UPDATE finding f SET state = 'open', version = f.version + 1, updated_at = ${now}::timestamptz
       WHERE f.state = 'on-estimate' AND f.closed_on IS NULL
         AND f.id IN (SELECT l.finding_id FROM estimate_line l JOIN gone g ON g.id = l.estimate_id)
         -- This statement sees the table as it was: those that have just run out still stand there as sent.
         AND NOT EXISTS (SELECT 1 FROM estimate_line l JOIN estimate x ON x.id = l.estimate_id
                          WHERE l.finding_id = f.id AND x.state = 'sent' AND x.id NOT IN (SELECT id FROM gone))),
    written AS (
      INSERT INTO audit_entry (id, at, actor_kind, action, subject_kind, subject_id, before, after)
      SELECT uuid_v7(${now}::timestamptz), ${now}::timestamptz, 'system', 'estimate.expire', 'estimate', id,
             '{"state":"sent"}', '{"state":"expired"}'
        FROM gone)
    SELECT count(*)::int AS count FROM gone`
  return row.count
}
