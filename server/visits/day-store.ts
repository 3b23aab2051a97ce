import { Prisma } from '../../prisma/generated/client.ts'
import type { Day } from '../../trade/dates.ts'
import type { Db } from '../db.ts'
import { iso } from '../sql-shapes.ts'

// The two screens that are open all day long. Each is one statement that answers JSON; shapes: schema.ts.

/** First instant of a day and of the next in the company's zone. */
const bounds = (day: Day) => Prisma.sql`bounds AS MATERIALIZED (
  SELECT ${day}::date::timestamp AT TIME ZONE time_zone AS first,
         (${day}::date + 1)::timestamp AT TIME ZONE time_zone AS next FROM company)`
const ON_THAT_DAY = Prisma.sql`v.starts_at >= (SELECT first FROM bounds) AND v.starts_at < (SELECT next FROM bounds)`

const TIMES = Prisma.sql`
  v.id, v.kind, v.state, ${iso('v.window_starts_at')} AS "windowStartsAt", ${iso('v.window_ends_at')} AS "windowEndsAt",
  ${iso('v.starts_at')} AS "startsAt", ${iso('v.ends_at')} AS "endsAt", v.length_minutes AS "lengthMinutes",
  ${iso('v.confirmed_at')} AS "confirmedAt"`
const PLACE = Prisma.raw(`
  v.customer_id AS "customerId", c.name AS "customerName", c.phone AS "customerPhone",
  v.property_id AS "propertyId", p.line1, p.line2, p.city, p.postcode, p.time_zone AS "timeZone", p.latitude,
  p.longitude, v.note, i.id AS "inspectionId", i.state AS "inspectionState", v.version`)

/** Every technician with the visits of a day in order; those without any too, while they work here. */
export async function readDay(db: Db, day: Day): Promise<string> {
  const [row] = await db.$queryRaw<[{ json: string }]>`
    WITH ${bounds(day)}
    SELECT json_build_object('day', ${day}::text, 'technicians', coalesce(json_agg(t ORDER BY t.name, t.id), '[]'))::text
      AS json
    FROM (
      SELECT s.id, s.name, s.phone, coalesce(day.visits, '[]') AS visits
      FROM staff s CROSS JOIN LATERAL (
        SELECT json_agg(r ORDER BY r."startsAt", r.id) AS visits FROM (
          SELECT ${TIMES}, ${PLACE}
          FROM visit v JOIN property p ON p.id = v.property_id JOIN customer c ON c.id = v.customer_id
          LEFT JOIN inspection i ON i.visit_id = v.id
          WHERE v.technician_id = s.id AND ${ON_THAT_DAY}) r) day
      WHERE day.visits IS NOT NULL OR (s.role = 'technician' AND s.disabled_at IS NULL)) t`
  return row.json
}

const SEVERITY = `array_position(ARRAY['unsafe', 'repair', 'improve', 'watch', 'investigate'], f.severity)`

/** A technician's own day in order, with what is known and still open at each home. */
export async function readMyDay(db: Db, technicianId: string, day: Day): Promise<string> {
  const [row] = await db.$queryRaw<[{ json: string }]>`
    WITH ${bounds(day)}
    SELECT json_build_object('day', ${day}::text, 'visits', coalesce(json_agg(v ORDER BY v."startsAt", v.id), '[]'))::text
      AS json
    FROM (
      SELECT ${TIMES}, ${PLACE}, v.technician_id AS "technicianId", t.name AS "technicianName",
        v.request_id AS "requestId", c.email::text AS "customerEmail", p.access_notes AS "accessNotes", v.sequence,
        ${iso('v.travel_started_at')} AS "travelStartedAt", ${iso('v.arrived_at')} AS "arrivedAt",
        ${iso('v.finished_at')} AS "finishedAt", v.closed_reason AS "closedReason", ${iso('v.created_at')} AS "createdAt",
        (SELECT coalesce(json_agg(r), '[]') FROM (
          SELECT o.name, o.phone, x.role, x.is_contact AS "isContact"
          FROM property_party x JOIN customer o ON o.id = x.customer_id
          WHERE x.property_id = p.id AND x.until IS NULL ORDER BY x.is_contact DESC, x.role, o.name) r) AS people,
        p.year_built AS "yearBuilt", p.fuels, p.levels, p.garage, p.last_inspected_on AS "lastInspectedOn",
        (SELECT count(*) FROM space s WHERE s.property_id = p.id AND s.retired_on IS NULL) AS spaces,
        (SELECT count(*) FROM equipment e WHERE e.property_id = p.id AND e.retired_on IS NULL) AS equipment,
        (SELECT coalesce(json_agg(r), '[]') FROM (
          SELECT f.id, f.severity, f.text, f.found_on AS "foundOn", f.state FROM finding f
          WHERE f.property_id = p.id AND f.closed_on IS NULL
          ORDER BY ${Prisma.raw(SEVERITY)}, f.found_on, f.id LIMIT 20) r) AS "openFindings",
        (SELECT coalesce(json_agg(r), '[]') FROM (
          SELECT u.id, u.kind, u.due_on AS "dueOn", u.assumed, u.reason FROM follow_up u
          WHERE u.property_id = p.id AND u.closed_at IS NULL AND u.due_on <= ${day}::date + 90
          ORDER BY u.due_on, u.id LIMIT 20) r) AS due
      FROM visit v JOIN property p ON p.id = v.property_id JOIN customer c ON c.id = v.customer_id
      JOIN staff t ON t.id = v.technician_id LEFT JOIN inspection i ON i.visit_id = v.id
      WHERE v.technician_id = ${technicianId}::uuid AND ${ON_THAT_DAY}) v`
  return row.json
}
