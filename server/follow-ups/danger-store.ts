import type { Db } from '../db.ts'
import type { Danger } from './schema.ts'

/** More than the office can have in hand at once; the worklist has them all. */
const MOST = 20

/** What is unsafe somewhere right now, from the moment it was written down on site, the inspection still running. */
export function listDangers(db: Db): Promise<Danger[]> {
  return db.$queryRaw<Danger[]>`
    SELECT f.id, f.text, f.make_safe AS "makeSafe", f.found_on::text AS "foundOn", f.state,
           f.refusal IS NOT NULL AS "isRefused", i.state = 'open' AS "isOnSite", i.id AS "inspectionId", p.id AS "propertyId",
           p.line1, p.city, c.name AS "customerName", c.phone AS "customerPhone", t.name AS "technicianName",
           (SELECT max(n.at) FROM call_note n JOIN follow_up u ON u.id = n.follow_up_id
             WHERE u.finding_id = f.id AND n.outcome = 'reached') IS NOT NULL AS "isTold"
      FROM finding f JOIN inspection i ON i.id = f.inspection_id JOIN property p ON p.id = f.property_id
      JOIN staff t ON t.id = i.technician_id
      LEFT JOIN property_party pp ON pp.property_id = p.id AND pp.is_contact AND pp.until IS NULL
      LEFT JOIN customer c ON c.id = pp.customer_id
     WHERE f.closed_on IS NULL AND f.severity = 'unsafe' AND f.state NOT IN ('corrected', 'checked', 'no-longer-applies')
       AND p.archived_at IS NULL
     ORDER BY f.refusal IS NOT NULL, f.found_on DESC, f.id
     LIMIT ${MOST}`
}
