import { Prisma } from '../../prisma/generated/client.ts'
import type { Day } from '../../trade/dates.ts'
import type { Db } from '../db.ts'
import { anywhere } from '../search/forgiving.ts'
import { IS_WELCOME } from './plan-store.ts'
import type { SurgePreview, SurgePreviewBody } from './surge-event-schema.ts'

export interface SurgeEventAt {
  on: Day
  dueOn: Day
  where: Pick<SurgePreviewBody, 'city' | 'street' | 'propertyId'>
}

function isThere({ city, street, propertyId }: SurgeEventAt['where']): Prisma.Sql {
  if (propertyId) return Prisma.sql`p.id = ${propertyId}::uuid`
  const town = Prisma.sql`fold(p.city) = fold(${city})`
  if (!street) return town
  return Prisma.sql`${town} AND fold(p.line1) LIKE fold(${anywhere(street)})`
}

/**
 * Protectors that were there and that nobody has looked at since: trade/follow-ups/kinds/surge-after-event.ts. Whoever was
 * asked about an earlier event is asked about this one; what was ended for this one or a later one is over.
 */
const concerned = ({ on, dueOn, where }: SurgeEventAt) => Prisma.sql`
  SELECT e.id, e.property_id, e.label, o.id IS NOT NULL AS moves,
         (SELECT v.id FROM visit v WHERE v.property_id = e.property_id
           AND v.state IN ('booked', 'travelling', 'on-site') ORDER BY v.starts_at LIMIT 1) AS visit_id
    FROM equipment e JOIN property p ON p.id = e.property_id
    LEFT JOIN follow_up o ON o.kind = 'surge-after-event' AND o.subject_id = e.id AND o.closed_at IS NULL
   WHERE e.kind = 'surge-protector' AND e.retired_on IS NULL AND p.archived_at IS NULL AND ${isThere(where)}
     AND coalesce(e.details->>'indicator', '') NOT IN ('fault', 'dark')
     AND (e.last_checked_on IS NULL OR e.last_checked_on <= ${on}::date)
     AND (e.installed_on IS NULL OR e.installed_on <= ${on}::date)
     AND (o.id IS NULL OR o.due_on < ${dueOn}::date)
     AND NOT EXISTS (SELECT 1 FROM follow_up x WHERE x.kind = 'surge-after-event' AND x.subject_id = e.id
                      AND x.closed_at IS NOT NULL AND x.due_on >= ${dueOn}::date)`

/** Whom it concerns and who would be written to. Reads only. */
export async function countConcerned(db: Db, event: SurgeEventAt): Promise<Omit<SurgePreview, 'confirm'>> {
  const [row] = await db.$queryRaw<[Omit<SurgePreview, 'confirm'>]>`
    WITH d AS MATERIALIZED (
      SELECT c.*, 'reminder' AS preference, 'about-surge' AS topic FROM (${concerned(event)}) c)
    SELECT (SELECT count(*) FROM property p WHERE p.archived_at IS NULL AND ${isThere(event.where)})::int AS "homesThere",
           (SELECT count(DISTINCT property_id) FROM d)::int AS homes,
           (SELECT count(*) FROM d)::int AS protectors,
           (SELECT count(*) FROM d WHERE moves)::int AS moved,
           (SELECT count(DISTINCT c.id)
              FROM d JOIN property_party pp ON pp.property_id = d.property_id AND pp.is_contact AND pp.until IS NULL
              JOIN customer c ON c.id = pp.customer_id AND c.email IS NOT NULL AND c.archived_at IS NULL
             WHERE d.visit_id IS NULL AND ${IS_WELCOME}
               AND NOT EXISTS (SELECT 1 FROM suppressed_address a WHERE a.email = c.email))::int AS letters`
  return row
}

/** Asks for a look at each. @returns how many are asked about because of this event */
export function openSurgeEvent(
  db: Db,
  event: SurgeEventAt & { opensOn: Day; reason: string; now: Date },
): Promise<number> {
  return db.$executeRaw`
    INSERT INTO follow_up (id, property_id, kind, subject_kind, subject_id, equipment_id, visit_id, due_on, assumed, reason,
                           state, next_notice_on, created_at, updated_at)
    SELECT uuid_v7(${event.now}::timestamptz), c.property_id, 'surge-after-event', 'equipment', c.id, c.id, c.visit_id,
           ${event.dueOn}::date, false, replace(${event.reason}, '{label}', c.label),
           CASE WHEN c.visit_id IS NULL THEN 'planned' ELSE 'booked' END, ${event.opensOn}::date,
           ${event.now}::timestamptz, ${event.now}::timestamptz
      FROM (${concerned(event)}) c
     ORDER BY c.id
    ON CONFLICT (kind, subject_id) WHERE closed_at IS NULL DO UPDATE
      SET due_on = excluded.due_on, reason = excluded.reason, last_step = NULL, next_notice_on = excluded.next_notice_on,
          snoozed_until = NULL, state = CASE WHEN follow_up.state = 'told' THEN 'planned' ELSE follow_up.state END,
          version = follow_up.version + 1, updated_at = excluded.updated_at
      WHERE follow_up.due_on < excluded.due_on`
}
