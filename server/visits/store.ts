import { Prisma, type PrismaClient } from '../../prisma/generated/client.ts'
import { LIVE_STATES, type VisitState } from '../../trade/visits.ts'
import type { Db } from '../db.ts'
import { Problem } from '../errors.ts'
import { contains, forgivingly, likeness, resembles } from '../search/forgiving.ts'
import { where } from '../sql-shapes.ts'
import type { VisitFilters, VisitRow, VisitView } from './schema.ts'

type Instants = 'windowStartsAt' | 'windowEndsAt' | 'startsAt' | 'endsAt'
type Raw<View> = {
  [Field in keyof View]: Field extends
    Instants | 'travelStartedAt' | 'arrivedAt' | 'finishedAt' | 'confirmedAt' | 'createdAt'
    ? Extract<View[Field], null> | Date
    : View[Field]
}

/** Instants as ISO text; everything else as it came. */
function plain<View>(row: Raw<View>): View {
  const entries = Object.entries(row as object).map(([name, value]) => [
    name,
    value instanceof Date ? value.toISOString() : value,
  ])
  return Object.fromEntries(entries) as View
}

const ROW = Prisma.raw(`
  v.id, v.kind, v.state, v.window_starts_at AS "windowStartsAt", v.window_ends_at AS "windowEndsAt",
  v.starts_at AS "startsAt", v.ends_at AS "endsAt", v.length_minutes AS "lengthMinutes",
  v.technician_id AS "technicianId", t.name AS "technicianName", v.customer_id AS "customerId",
  c.name AS "customerName", c.phone AS "customerPhone", v.property_id AS "propertyId", p.line1, p.line2, p.city,
  p.postcode, p.time_zone AS "timeZone", v.note, v.confirmed_at AS "confirmedAt"`)
const FROM = Prisma.raw(`
  FROM visit v JOIN property p ON p.id = v.property_id JOIN customer c ON c.id = v.customer_id
  JOIN staff t ON t.id = v.technician_id`)

export async function findVisit(db: Db, id: string): Promise<VisitView | null> {
  const [row] = await db.$queryRaw<Raw<VisitView>[]>`
    SELECT ${ROW}, v.request_id AS "requestId", c.email::text AS "customerEmail", p.latitude, p.longitude,
      p.access_notes AS "accessNotes", v.sequence, v.travel_started_at AS "travelStartedAt",
      v.arrived_at AS "arrivedAt", v.finished_at AS "finishedAt", v.closed_reason AS "closedReason",
      i.id AS "inspectionId", i.state AS "inspectionState", v.version, v.created_at AS "createdAt"
    ${FROM} LEFT JOIN inspection i ON i.visit_id = v.id WHERE v.id = ${id}::uuid`
  return row ? plain<VisitView>(row) : null
}

export async function getVisit(db: Db, id: string): Promise<VisitView> {
  const visit = await findVisit(db, id)
  if (!visit) throw new Problem('not-found', 'There is no such visit.')
  return visit
}

export interface Appointment {
  windowStartsAt: Date
  windowEndsAt: Date
  startsAt: Date
  lengthMinutes: number
  technicianId: string
}

export const endOf = ({ startsAt, lengthMinutes }: Pick<Appointment, 'startsAt' | 'lengthMinutes'>) =>
  new Date(startsAt.getTime() + lengthMinutes * 60_000)

interface NewVisit extends Appointment {
  id: string
  propertyId: string
  customerId: string
  requestId: string | null
  kind: string
  note: string
}

/** Fails on visit_no_overlap when the technician is somewhere else then. */
export async function insertVisit(db: Db, visit: NewVisit, now: Date): Promise<void> {
  await db.visit.create({ data: { ...visit, endsAt: endOf(visit), createdAt: now, updatedAt: now } })
}

/** Changes a visit that is in one of those states and of that version. @returns false when it is not */
export async function updateVisit(
  db: Db,
  id: string,
  guard: { version?: number; states: readonly VisitState[] },
  change: Prisma.VisitUncheckedUpdateManyInput,
): Promise<boolean> {
  const { count } = await db.visit.updateMany({
    where: {
      id,
      state: { in: [...guard.states] },
      ...(guard.version !== undefined && { version: guard.version }),
    },
    data: { ...change, version: { increment: 1 } },
  })
  return count === 1
}

/**
 * The technician, held until the transaction ends: bookings of one person come one after the other. The constraint
 * alone would guard them too, but two at once would wait for each other until the database ends one as a deadlock.
 */
export async function holdTechnician(tx: Db, id: string): Promise<{ id: string; name: string } | null> {
  const [row] = await tx.$queryRaw<{ id: string; name: string }[]>`
    SELECT id, name FROM staff WHERE id = ${id}::uuid AND role = 'technician' AND disabled_at IS NULL
    FOR NO KEY UPDATE`
  return row ?? null
}

/** What a technician is doing in that time, besides one visit. */
export async function findConflict(
  db: Db,
  { technicianId, startsAt, lengthMinutes }: Pick<Appointment, 'technicianId' | 'startsAt' | 'lengthMinutes'>,
  exceptId: string,
) {
  return db.visit.findFirst({
    where: {
      technicianId,
      id: { not: exceptId },
      state: { in: [...LIVE_STATES] },
      startsAt: { lt: endOf({ startsAt, lengthMinutes }) },
      endsAt: { gt: startsAt },
    },
    orderBy: { startsAt: 'asc' },
    select: {
      id: true,
      startsAt: true,
      endsAt: true,
      technician: { select: { name: true } },
      property: { select: { line1: true, timeZone: true } },
    },
  })
}

export interface VisitFilter extends VisitFilters {
  /** Of whom nothing else may be seen. */
  onlyOf?: string | undefined
}

const ADDRESS = Prisma.raw('p.search')
const PERSON = Prisma.raw('c.search')
const UUID = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/i

/** Visits to homes whose address matches, or of people who do. In order of time the page is soon full where many match. */
const matching = (match: (column: Prisma.Sql) => Prisma.Sql) => Prisma.sql`(
  v.property_id IN (SELECT p.id FROM property p WHERE ${match(ADDRESS)})
  OR v.customer_id IN (SELECT c.id FROM customer c WHERE ${match(PERSON)}))`

const typed = (q: string) =>
  UUID.test(q) ? Prisma.sql`v.id = ${q}::uuid` : matching((column) => contains(column, q))

/** `from` and `to` are days of the company's zone. */
const filtered = (filters: VisitFilter, ...more: (Prisma.Sql | null)[]) => {
  const midnight = (day: string, plusDays: number) =>
    Prisma.sql`((${day}::date + ${plusDays}::int)::timestamp AT TIME ZONE (SELECT time_zone FROM company))`
  return where(
    filters.from && Prisma.sql`v.starts_at >= ${midnight(filters.from, 0)}`,
    filters.to && Prisma.sql`v.starts_at < ${midnight(filters.to, 1)}`,
    filters.technicianId && Prisma.sql`v.technician_id = ${filters.technicianId}::uuid`,
    filters.onlyOf && Prisma.sql`v.technician_id = ${filters.onlyOf}::uuid`,
    filters.state && Prisma.sql`v.state = ${filters.state}`,
    filters.kind && Prisma.sql`v.kind = ${filters.kind}`,
    filters.propertyId && Prisma.sql`v.property_id = ${filters.propertyId}::uuid`,
    filters.customerId && Prisma.sql`v.customer_id = ${filters.customerId}::uuid`,
    ...more,
  )
}

const listSql = (condition: Prisma.Sql, order: Prisma.Sql, limit: number) =>
  Prisma.sql`SELECT ${ROW} ${FROM} ${condition} ORDER BY ${order} LIMIT ${limit}`

export async function listVisits(
  db: Db,
  filters: VisitFilter,
  order: 'earliest' | 'latest',
  after: readonly [string, string] | null,
  limit: number,
): Promise<VisitRow[]> {
  const [than, direction] =
    order === 'earliest' ? [Prisma.sql`>`, Prisma.sql`ASC`] : [Prisma.sql`<`, Prisma.sql`DESC`]
  const condition = filtered(
    filters,
    filters.q ? typed(filters.q) : null,
    after && Prisma.sql`(v.starts_at, v.id) ${than} (${after[0]}::timestamptz, ${after[1]}::uuid)`,
  )
  const by = Prisma.sql`v.starts_at ${direction}, v.id ${direction}`
  return (await db.$queryRaw<Raw<VisitRow>[]>(listSql(condition, by, limit))).map((row) =>
    plain<VisitRow>(row),
  )
}

/** Those that what was typed might have meant, best first. */
export async function listResembling(
  db: PrismaClient,
  filters: VisitFilter & { q: string },
  limit: number,
): Promise<VisitRow[]> {
  const { q } = filters
  const condition = filtered(
    filters,
    matching((column) => resembles(column, q)),
  )
  const order = Prisma.sql`greatest(${likeness(ADDRESS, q)}, ${likeness(PERSON, q)}) DESC, v.starts_at DESC, v.id`
  const rows = await forgivingly<Raw<VisitRow>>(db, listSql(condition, order, limit))
  return rows.map((row) => plain<VisitRow>(row))
}

/** Who is taken when, in a stretch of time. */
export function listBookings(db: Db, { from, to }: { from: Date; to: Date }) {
  return db.visit.findMany({
    where: { state: { in: [...LIVE_STATES] }, startsAt: { lt: to }, endsAt: { gt: from } },
    select: { technicianId: true, startsAt: true, endsAt: true },
  })
}

interface SiteFacts {
  yearBuilt: number | null
  spaces: number
  bedrooms: number
  panels: number
}

/** What the length of an inspection is estimated from. */
export async function findSiteFacts(db: Db, propertyId: string): Promise<SiteFacts> {
  const [row] = await db.$queryRaw<SiteFacts[]>`
    SELECT p.year_built AS "yearBuilt", s.spaces, s.bedrooms, e.panels
      FROM property p
      CROSS JOIN LATERAL (SELECT count(*)::int AS spaces, (count(*) FILTER (WHERE kind = 'bedroom'))::int AS bedrooms
        FROM space WHERE property_id = p.id AND retired_on IS NULL) s
      CROSS JOIN LATERAL (SELECT count(*)::int AS panels
        FROM equipment WHERE property_id = p.id AND retired_on IS NULL AND kind = 'panel') e
     WHERE p.id = ${propertyId}::uuid`
  return row ?? { yearBuilt: null, spaces: 0, bedrooms: 0, panels: 0 }
}
