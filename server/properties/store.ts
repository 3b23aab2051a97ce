import { Prisma, type PrismaClient, type Property } from '../../prisma/generated/client.ts'
import { type Day } from '../../trade/dates.ts'
import type { Db } from '../db.ts'
import { Problem } from '../errors.ts'
import { contains, forgivingly, likeness, resembles } from '../search/forgiving.ts'
import { where } from '../sql-shapes.ts'
import { toDay } from '../time.ts'
import type { PropertyFilters, PropertyRecord, PropertyRow } from './schema.ts'

export async function findProperty(db: Db, id: string): Promise<PropertyRecord | null> {
  const row = await db.property.findUnique({ where: { id } })
  return row && propertyOf(row)
}

export async function getProperty(db: Db, id: string): Promise<PropertyRecord> {
  const property = await findProperty(db, id)
  if (!property) throw new Problem('not-found', 'There is no such home.')
  return property
}

export function propertyOf(row: Property): PropertyRecord {
  return {
    id: row.id,
    line1: row.line1,
    line2: row.line2,
    city: row.city,
    region: row.region,
    postcode: row.postcode,
    latitude: row.latitude,
    longitude: row.longitude,
    timeZone: row.timeZone,
    jurisdictionId: row.jurisdictionId,
    yearBuilt: row.yearBuilt,
    yearAltered: row.yearAltered,
    levels: row.levels,
    areaSqFt: row.areaSqFt,
    fuels: row.fuels as PropertyRecord['fuels'],
    hasGasPiping: row.hasGasPiping,
    garage: row.garage as PropertyRecord['garage'],
    garageOpensIntoHome: row.garageOpensIntoHome,
    tenure: row.tenure as PropertyRecord['tenure'],
    lastInspectedOn: toDay(row.lastInspectedOn),
    soldOn: toDay(row.soldOn),
    accessNotes: row.accessNotes,
    notes: row.notes,
    archivedAt: row.archivedAt?.toISOString() ?? null,
    version: row.version,
    createdAt: row.createdAt.toISOString(),
    updatedAt: row.updatedAt.toISOString(),
  }
}

/** @returns false when there is a home of that id already */
export async function insertProperty(db: Db, data: Prisma.PropertyCreateManyInput): Promise<boolean> {
  const { count } = await db.property.createMany({ data, skipDuplicates: true })
  return count === 1
}

/** @returns false when the version seen is no longer the one stored */
export async function updateProperty(
  db: Db,
  id: string,
  seen: number,
  change: Prisma.PropertyUncheckedUpdateManyInput,
): Promise<boolean> {
  const { count } = await db.property.updateMany({
    where: { id, version: seen },
    data: { ...change, version: { increment: 1 } },
  })
  return count === 1
}

type Row = Omit<PropertyRow, 'archivedAt' | 'lastInspectedOn' | 'nextDueOn'> & {
  archivedAt: Date | null
  lastInspectedOn: Date | null
  nextDueOn: Date | null
}
const rowOf = (row: Row): PropertyRow => ({
  ...row,
  archivedAt: row.archivedAt?.toISOString() ?? null,
  lastInspectedOn: toDay(row.lastInspectedOn),
  nextDueOn: toDay(row.nextDueOn),
})

/** What stands beside an address is looked up for the rows of the page alone. */
const listSql = (condition: Prisma.Sql, order: Prisma.Sql, limit: number) => Prisma.sql`
  SELECT p.id, p.line1, p.line2, p.city, p.region, p.postcode, p.year_built AS "yearBuilt",
         j.name AS "jurisdictionName", c.id AS "contactId", c.name AS "contactName", c.phone AS "contactPhone",
         p.last_inspected_on AS "lastInspectedOn", p.archived_at AS "archivedAt",
         due.next AS "nextDueOn", due.count::int AS "openFollowUps",
         (SELECT count(*) FROM finding f WHERE f.property_id = p.id AND f.closed_on IS NULL)::int AS "openFindings"
    FROM (SELECT * FROM property p ${condition} ORDER BY ${order} LIMIT ${limit}) p
    LEFT JOIN jurisdiction j ON j.id = p.jurisdiction_id
    LEFT JOIN property_party x ON x.property_id = p.id AND x.is_contact AND x.until IS NULL
    LEFT JOIN customer c ON c.id = x.customer_id
    CROSS JOIN LATERAL (SELECT min(u.due_on) AS next, count(*) AS count
       FROM follow_up u WHERE u.property_id = p.id AND u.closed_at IS NULL) due
   ORDER BY ${order}`

const ADDRESS = Prisma.raw('p.search')
const PERSON = Prisma.raw('c.search')
const BY_STREET = Prisma.sql`p.postcode, p.line1, p.id`

/** Homes whose address matches, or one of whose people does. As a set of ids, so that each side walks its own index. */
const found = (match: (column: Prisma.Sql) => Prisma.Sql) => Prisma.sql`p.id IN (
  SELECT p.id FROM property p WHERE ${match(ADDRESS)}
  UNION SELECT x.property_id FROM property_party x JOIN customer c ON c.id = x.customer_id
   WHERE x.until IS NULL AND ${match(PERSON)})`

/** `due` is asked of open follow-ups: past their day, within 90 days, or none at all. */
function dueCondition(due: NonNullable<PropertyFilters['due']>, today: Day): Prisma.Sql {
  const open = Prisma.sql`SELECT u.property_id FROM follow_up u WHERE u.closed_at IS NULL`
  switch (due) {
    case 'overdue':
      return Prisma.sql`p.id IN (${open} AND u.due_on < ${today}::date)`
    case 'soon':
      return Prisma.sql`p.id IN (${open} AND u.due_on BETWEEN ${today}::date AND ${today}::date + 90)`
    case 'none':
      return Prisma.sql`NOT EXISTS (${open} AND u.property_id = p.id)`
  }
}

const filtered = (filters: PropertyFilters, today: Day, ...more: (Prisma.Sql | null)[]) =>
  where(
    filters.archived ? Prisma.sql`p.archived_at IS NOT NULL` : Prisma.sql`p.archived_at IS NULL`,
    filters.customerId &&
      Prisma.sql`p.id IN (SELECT x.property_id FROM property_party x WHERE x.customer_id = ${filters.customerId}::uuid)`,
    filters.jurisdictionId && Prisma.sql`p.jurisdiction_id = ${filters.jurisdictionId}::uuid`,
    filters.builtFrom !== undefined && Prisma.sql`p.year_built >= ${filters.builtFrom}`,
    filters.builtTo !== undefined && Prisma.sql`p.year_built <= ${filters.builtTo}`,
    filters.due && dueCondition(filters.due, today),
    ...more,
  )

/** By postcode and street, after those given. */
export async function listProperties(
  db: Db,
  filters: PropertyFilters,
  today: Day,
  after: readonly [string, string, string] | null,
  limit: number,
): Promise<PropertyRow[]> {
  const { q } = filters
  const condition = filtered(
    filters,
    today,
    q ? found((column) => contains(column, q)) : null,
    after && Prisma.sql`(p.postcode, p.line1, p.id) > (${after[0]}, ${after[1]}, ${after[2]}::uuid)`,
  )
  return (await db.$queryRaw<Row[]>(listSql(condition, BY_STREET, limit))).map(rowOf)
}

/** Those that what was typed might have meant, best first. */
export async function listResembling(
  db: PrismaClient,
  filters: PropertyFilters & { q: string },
  today: Day,
  limit: number,
): Promise<PropertyRow[]> {
  const match = found((column) => resembles(column, filters.q))
  const order = Prisma.sql`${likeness(ADDRESS, filters.q)} DESC, ${BY_STREET}`
  return (await forgivingly<Row>(db, listSql(filtered(filters, today, match), order, limit))).map(rowOf)
}

export async function isJurisdiction(db: Db, id: string): Promise<boolean> {
  return (await db.jurisdiction.findUnique({ where: { id }, select: { id: true } })) !== null
}
