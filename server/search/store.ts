import { Prisma, type PrismaClient } from '../../prisma/generated/client.ts'
import { where } from '../sql-shapes.ts'
import { contains, forgivingly, likeness, resembles } from './forgiving.ts'
import type { SearchView } from './schema.ts'

type Found<Part extends keyof SearchView> = SearchView[Part][number]

/** What a technician may find: what their own visits since then lead to. Null: everything. */
export type Scope = { technicianId: string; since: Date } | null

export interface Search {
  q: string
  /** Contains what was typed, or only resembles it. */
  forgiving: boolean
  scope: Scope
  limit: number
}

const UUID = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/i
/** Of so many that contain what was typed the best are picked: enough that the best are among them. */
const LOOKED_AT = 500

const ownVisits = (scope: Scope, column: string) =>
  scope &&
  Prisma.sql`SELECT ${Prisma.raw(column)} FROM visit v WHERE v.technician_id = ${scope.technicianId}::uuid
    AND v.starts_at > ${scope.since} AND v.state <> 'cancelled'`

function matching(table: string, { q, forgiving }: Search): Prisma.Sql {
  if (UUID.test(q)) return Prisma.sql`${Prisma.raw(table)}.id = ${q}::uuid`
  const column = Prisma.raw(`${table}.search`)
  return forgiving ? resembles(column, q) : contains(column, q)
}

/** Those still in use first, then those that begin with what was typed, then by likeness. */
const bestFirst = (table: string, q: string) => {
  const column = Prisma.raw(`${table}.search`)
  return Prisma.sql`${Prisma.raw(`${table}.archived_at IS NOT NULL`)}, starts_with(${column}, fold(${q})) DESC,
    ${likeness(column, q)} DESC, ${Prisma.raw(`${table}.id`)}`
}

const ask = <Row>(db: PrismaClient, search: Search, query: Prisma.Sql) =>
  search.forgiving ? forgivingly<Row>(db, query) : db.$queryRaw<Row[]>(query)

export function findCustomers(db: PrismaClient, search: Search): Promise<Found<'customers'>[]> {
  const own = ownVisits(search.scope, 'v.customer_id')
  const condition = where(matching('c', search), own && Prisma.sql`c.id IN (${own})`)
  return ask(
    db,
    search,
    Prisma.sql`
      SELECT c.id, c.name, c.email::text AS email, c.phone, c.archived_at IS NOT NULL AS archived
        FROM (SELECT * FROM customer c ${condition} LIMIT ${LOOKED_AT}) c
       ORDER BY ${bestFirst('c', search.q)} LIMIT ${search.limit}`,
  )
}

export function findProperties(db: PrismaClient, search: Search): Promise<Found<'properties'>[]> {
  const own = ownVisits(search.scope, 'v.property_id')
  const condition = where(matching('p', search), own && Prisma.sql`p.id IN (${own})`)
  return ask(
    db,
    search,
    Prisma.sql`
      SELECT p.id, p.line1, p.line2, p.city, p.postcode, p.archived_at IS NOT NULL AS archived,
             (SELECT c.name FROM property_party x JOIN customer c ON c.id = x.customer_id
               WHERE x.property_id = p.id AND x.is_contact AND x.until IS NULL) AS "contactName"
        FROM (SELECT * FROM property p ${condition} LIMIT ${LOOKED_AT}) p
       ORDER BY ${bestFirst('p', search.q)} LIMIT ${search.limit}`,
  )
}

/** Visits of that id, or of those people and homes: the ones to come first, then the latest. */
export async function findVisits(
  db: PrismaClient,
  { q, scope, limit }: Search,
  of: { customerIds: readonly string[]; propertyIds: readonly string[] },
  now: Date,
): Promise<Found<'visits'>[]> {
  const id = UUID.test(q) ? q : null
  const condition = where(
    Prisma.sql`(v.id = ${id}::uuid OR v.customer_id = ANY (${of.customerIds}::uuid[])
      OR v.property_id = ANY (${of.propertyIds}::uuid[]))`,
    scope && Prisma.sql`v.technician_id = ${scope.technicianId}::uuid`,
    id === null && Prisma.sql`v.state <> 'cancelled'`,
  )
  const rows = await db.$queryRaw<(Omit<Found<'visits'>, 'startsAt'> & { startsAt: Date })[]>`
    SELECT v.id, v.kind, v.state, v.starts_at AS "startsAt", p.time_zone AS "timeZone", p.line1,
           c.name AS "customerName", t.name AS "technicianName"
      FROM visit v JOIN property p ON p.id = v.property_id JOIN customer c ON c.id = v.customer_id
      JOIN staff t ON t.id = v.technician_id
     ${condition}
     ORDER BY v.starts_at >= ${now} DESC, abs(extract(epoch FROM v.starts_at - ${now})), v.id LIMIT ${limit}`
  return rows.map((row) => ({ ...row, startsAt: row.startsAt.toISOString() }))
}
