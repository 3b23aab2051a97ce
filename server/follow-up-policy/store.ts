import type { FollowUpKindId } from '../../trade/follow-ups/kind.ts'
import type { Db } from '../db.ts'

export function countHomes(db: Db): Promise<number> {
  return db.property.count({ where: { archivedAt: null } })
}

/** Has the next round look at what is open of these kinds: by other notices than before, one may be due already. */
export async function lookAgain(tx: Db, kinds: readonly FollowUpKindId[], now: Date): Promise<void> {
  if (kinds.length === 0) return
  await tx.$executeRaw`
    UPDATE follow_up f
       SET next_notice_on = least(f.next_notice_on, (${now}::timestamptz AT TIME ZONE p.time_zone)::date)
      FROM property p
     WHERE p.id = f.property_id AND f.closed_at IS NULL AND f.kind = ANY(${[...kinds]})`
}

/** Who changed it when, the latest first. */
export async function listPolicyChanges(db: Db) {
  const rows = await db.$queryRaw<{ at: Date; by: string | null; before: unknown; after: unknown }[]>`
    SELECT a.at, s.name AS by, a.before, a.after FROM audit_entry a LEFT JOIN staff s ON s.id = a.actor_id
     WHERE a.subject_kind = 'company' AND a.action = 'policy.change'
     ORDER BY a.at DESC LIMIT 20`
  return rows.map((row) => ({ ...row, at: row.at.toISOString() }))
}
