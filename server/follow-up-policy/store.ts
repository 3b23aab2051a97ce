import type { Db } from '../db.ts'

export function countHomes(db: Db): Promise<number> {
  return db.property.count({ where: { archivedAt: null } })
}

/** Who changed it when, the latest first. */
export async function listPolicyChanges(db: Db) {
  const rows = await db.$queryRaw<{ at: Date; by: string | null; before: unknown; after: unknown }[]>`
    SELECT a.at, s.name AS by, a.before, a.after FROM audit_entry a LEFT JOIN staff s ON s.id = a.actor_id
     WHERE a.subject_kind = 'company' AND a.action = 'policy.change'
     ORDER BY a.at DESC LIMIT 20`
  return rows.map((row) => ({ ...row, at: row.at.toISOString() }))
}
