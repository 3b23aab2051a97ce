import type { FollowUpKindId } from '../../trade/follow-ups/kind.ts'
import type { Db } from '../db.ts'

/** Where a word was said: by the way out in a letter, on their page, or to the office. */
export type PreferenceSource = 'unsubscribe' | 'preferences-page' | 'office'

export async function listPreferences(db: Db, customerId: string): Promise<Map<string, boolean>> {
  const rows = await db.messagePreference.findMany({ where: { customerId } })
  return new Map(rows.map(({ category, allowed }) => [category, allowed]))
}

/** A word that is only said again keeps its day: the tips are counted from it. @returns whether it is a new one */
export async function setPreference(
  db: Db,
  preference: {
    customerId: string
    category: string
    allowed: boolean
    source: PreferenceSource
  },
  now: Date,
): Promise<boolean> {
  const { customerId, category, allowed, source } = preference
  const count = await db.$executeRaw`
    INSERT INTO message_preference (customer_id, category, allowed, source, changed_at)
    VALUES (${customerId}::uuid, ${category}, ${allowed}, ${source}, ${now}::timestamptz)
    ON CONFLICT (customer_id, category) DO UPDATE
      SET allowed = excluded.allowed, source = excluded.source, changed_at = excluded.changed_at
      WHERE message_preference.allowed <> excluded.allowed`
  return count === 1
}

/** The same with where and when it was said, and who of the office wrote it down. */
export function listSaid(
  db: Db,
  customerId: string,
): Promise<{ category: string; allowed: boolean; source: PreferenceSource; at: Date; by: string | null }[]> {
  return db.$queryRaw`
    SELECT w.category, w.allowed, w.source, w.changed_at AS at,
           (SELECT s.name FROM audit_entry a JOIN staff s ON s.id = a.actor_id
             WHERE a.subject_kind = 'customer' AND a.subject_id = w.customer_id AND a.action = 'customer.preference'
               AND a.after->>'category' = w.category AND w.source = 'office'
             ORDER BY a.at DESC LIMIT 1) AS by
      FROM message_preference w WHERE w.customer_id = ${customerId}::uuid`
}

/** What was ended because they wanted no reminders speaks again, unless the same cause is open by now. */
export async function reopenOptedOut(
  db: Db,
  customerId: string,
  reason: string,
  refused: readonly FollowUpKindId[],
  now: Date,
): Promise<void> {
  await db.$executeRaw`
    UPDATE follow_up f
       SET state = CASE WHEN f.last_step IS NULL THEN 'planned' ELSE 'told' END, closed_at = NULL, closed_reason = NULL,
           next_notice_on = f.due_on, version = f.version + 1, updated_at = ${now}::timestamptz
      FROM property_party c
     WHERE c.customer_id = ${customerId}::uuid AND c.is_contact AND c.until IS NULL AND c.property_id = f.property_id
       AND f.closed_at IS NOT NULL AND f.closed_reason = ${reason}
       AND NOT f.kind = ANY(${[...refused]})
       AND NOT EXISTS (SELECT 1 FROM follow_up o WHERE o.closed_at IS NULL AND o.kind = f.kind
                        AND o.subject_id = f.subject_id)
       AND NOT EXISTS (SELECT 1 FROM follow_up n WHERE n.kind = f.kind AND n.subject_id = f.subject_id
                        AND n.closed_reason = ${reason} AND n.due_on > f.due_on)`
}
