import { Prisma } from '../../prisma/generated/client.ts'
import type { Db } from '../db.ts'
import { Problem } from '../errors.ts'
import { iso } from '../sql-shapes.ts'

/** JSON as PostgreSQL wrote it: it goes out as it is. */
export interface JsonText {
  json: string
  version: number
}

const list = (rows: Prisma.Sql, order: string) =>
  Prisma.sql`(SELECT coalesce(json_agg(r ORDER BY ${Prisma.raw(order)}), '[]') FROM (${rows}) r)`

const PARTIES = list(
  Prisma.sql`
    SELECT x.customer_id AS "customerId", c.name, c.kind, c.phone, c.second_phone AS "secondPhone",
      c.email::text AS email, c.language, x.role, x.is_contact AS "isContact", x.since, x.until
    FROM property_party x JOIN customer c ON c.id = x.customer_id WHERE x.property_id = p.id`,
  'r.until NULLS FIRST, r."isContact" DESC, r.role, r.name',
)

const SPACES = list(
  Prisma.sql`
    SELECT s.id, s.kind, s.name, s.level, s.area_sq_ft AS "areaSqFt", s.has_sink AS "hasSink",
      s.has_tub_or_shower AS "hasTubOrShower", s.has_fuel_burner AS "hasFuelBurner",
      s.sleeping_area AS "sleepingArea", s.position, s.retired_on AS "retiredOn", s.version
    FROM space s WHERE s.property_id = p.id`,
  'r."retiredOn" NULLS FIRST, r.position, r.id',
)

const EQUIPMENT = list(
  Prisma.sql`
    SELECT e.id, e.space_id AS "spaceId", e.parent_id AS "parentId", e.kind, e.label, e.details,
      e.manufactured_on AS "manufacturedOn", e.installed_on AS "installedOn", e.replace_by AS "replaceBy",
      e.replace_by_assumed AS "replaceByAssumed", e.last_checked_on AS "lastCheckedOn",
      e.next_check_on AS "nextCheckOn", e.retired_on AS "retiredOn", e.retired_reason AS "retiredReason",
      e.replaced_by_id AS "replacedById", e.version
    FROM equipment e WHERE e.property_id = p.id`,
  'r."retiredOn" NULLS FIRST, r.kind, r.label, r.id',
)

const FINDINGS = list(
  Prisma.sql`
    SELECT f.id, f.inspection_id AS "inspectionId", f.item_id AS "itemId", f.space_id AS "spaceId",
      f.equipment_id AS "equipmentId", f.severity, f.text, f.correction, f.state, f.make_safe AS "makeSafe",
      f.found_on AS "foundOn", f.watch_until AS "watchUntil", f.version
    FROM finding f WHERE f.property_id = p.id AND f.closed_on IS NULL`,
  `array_position(ARRAY['unsafe', 'repair', 'improve', 'watch', 'investigate'], r.severity), r."foundOn", r.id`,
)

const REQUESTS = list(
  Prisma.sql`
    SELECT q.id, q.customer_id AS "customerId", q.kind, q.reason, q.preferred_days AS "preferredDays", q.state,
      ${iso('q.created_at')} AS "createdAt"
    FROM visit_request q WHERE q.property_id = p.id`,
  'r."createdAt" DESC, r.id',
)

const VISITS = list(
  Prisma.sql`
    SELECT v.id, v.kind, v.state, ${iso('v.window_starts_at')} AS "windowStartsAt",
      ${iso('v.window_ends_at')} AS "windowEndsAt", ${iso('v.starts_at')} AS "startsAt",
      v.length_minutes AS "lengthMinutes", v.technician_id AS "technicianId", t.name AS "technicianName", v.note,
      v.closed_reason AS "closedReason", i.id AS "inspectionId"
    FROM visit v JOIN staff t ON t.id = v.technician_id LEFT JOIN inspection i ON i.visit_id = v.id
    WHERE v.property_id = p.id`,
  'r."startsAt" DESC, r.id',
)

const INSPECTIONS = list(
  Prisma.sql`
    SELECT i.id, i.visit_id AS "visitId", i.state, ${iso('i.started_at')} AS "startedAt",
      i.completed_on AS "completedOn", t.name AS "technicianName",
      (SELECT count(*) FROM finding f WHERE f.inspection_id = i.id) AS findings
    FROM inspection i JOIN staff t ON t.id = i.technician_id WHERE i.property_id = p.id`,
  'r."startedAt" DESC, r.id',
)

const REPORTS = list(
  Prisma.sql`
    SELECT o.id, o.inspection_id AS "inspectionId", o.version, ${iso('o.issued_at')} AS "issuedAt", o.reason
    FROM inspection i JOIN report o ON o.inspection_id = i.id WHERE i.property_id = p.id`,
  'r."issuedAt" DESC, r.id',
)

const followUp = (rest: Prisma.Sql) => Prisma.sql`
  (SELECT u.id, u.kind, u.subject_kind AS "subjectKind", u.subject_id AS "subjectId", u.due_on AS "dueOn", u.assumed,
    u.reason, u.state, u.next_notice_on AS "nextNoticeOn", ${iso('u.closed_at')} AS "closedAt",
    u.closed_reason AS "closedReason", u.version
  FROM follow_up u WHERE u.property_id = p.id AND ${rest})`
const FOLLOW_UPS = list(
  Prisma.sql`${followUp(Prisma.sql`u.closed_at IS NULL`)} UNION ALL
    ${followUp(Prisma.sql`u.closed_at IS NOT NULL ORDER BY u.closed_at DESC LIMIT 50`)}`,
  `r."closedAt" DESC NULLS FIRST, r."dueOn", r.id`,
)

const MESSAGES = list(
  Prisma.sql`
    SELECT m.id, m.kind, m.category, m.to_name AS "toName", m.subject, m.state, m.reason,
      ${iso('m.created_at')} AS "createdAt", ${iso('m.sent_at')} AS "sentAt"
    FROM message m WHERE m.property_id = p.id ORDER BY m.created_at DESC, m.id LIMIT 100`,
  'r."createdAt" DESC, r.id',
)

const ESTIMATES = list(
  Prisma.sql`
    SELECT e.id, e.number, e.state, e.expires_on AS "expiresOn", ${iso('e.sent_at')} AS "sentAt"
    FROM estimate e WHERE e.property_id = p.id`,
  'r.number DESC',
)

const NOTHING = Prisma.sql`'[]'::json`

/**
 * A home with everything that was ever done there, in one statement that answers JSON: the busiest screen beside the
 * day, and twenty years of history are a few hundred rows. Shape: home-schema.ts.
 */
export async function readHome(db: Db, id: string, forOffice: boolean): Promise<JsonText> {
  const [row] = await db.$queryRaw<JsonText[]>`
    SELECT row_to_json(home)::text AS json, home.version FROM (
      SELECT p.id, p.line1, p.line2, p.city, p.region, p.postcode, p.latitude, p.longitude,
        p.time_zone AS "timeZone", p.jurisdiction_id AS "jurisdictionId", p.year_built AS "yearBuilt",
        p.year_altered AS "yearAltered", p.levels, p.area_sq_ft AS "areaSqFt", p.fuels,
        p.has_gas_piping AS "hasGasPiping", p.garage, p.garage_opens_into_home AS "garageOpensIntoHome", p.tenure,
        p.last_inspected_on AS "lastInspectedOn", p.sold_on AS "soldOn", p.access_notes AS "accessNotes", p.notes,
        ${iso('p.archived_at')} AS "archivedAt", p.version, ${iso('p.created_at')} AS "createdAt",
        ${iso('p.updated_at')} AS "updatedAt",
        (SELECT j.name FROM jurisdiction j WHERE j.id = p.jurisdiction_id) AS "jurisdictionName",
        ${PARTIES} AS parties, ${SPACES} AS spaces, ${EQUIPMENT} AS equipment, ${FINDINGS} AS findings,
        (SELECT count(*) FROM finding f WHERE f.property_id = p.id AND f.closed_on IS NOT NULL) AS "closedFindings",
        ${REQUESTS} AS requests, ${VISITS} AS visits, ${INSPECTIONS} AS inspections, ${REPORTS} AS reports,
        ${FOLLOW_UPS} AS "followUps", ${forOffice ? MESSAGES : NOTHING} AS messages,
        ${forOffice ? ESTIMATES : NOTHING} AS estimates
      FROM property p WHERE p.id = ${id}::uuid) home`
  if (!row) throw new Problem('not-found', 'There is no such home.')
  return row
}
