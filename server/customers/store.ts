import { type Customer, Prisma, type PrismaClient } from '../../prisma/generated/client.ts'
import type { Db } from '../db.ts'
import { Problem } from '../errors.ts'
import { contains, forgivingly, likeness, resembles } from '../search/forgiving.ts'
import { iso, where } from '../sql-shapes.ts'
import type { CustomerFilters, CustomerRecord, CustomerRow, CustomerView } from './schema.ts'

export async function getCustomer(db: Db, id: string): Promise<CustomerRecord> {
  const row = await db.customer.findUnique({ where: { id } })
  if (!row) throw new Problem('not-found', 'There is no such customer.')
  return customerOf(row)
}

export function customerOf(row: Customer): CustomerRecord {
  return {
    id: row.id,
    kind: row.kind as CustomerRecord['kind'],
    name: row.name,
    email: row.email,
    phone: row.phone,
    secondPhone: row.secondPhone,
    language: row.language as CustomerRecord['language'],
    addressLines: row.addressLines,
    notes: row.notes,
    archivedAt: row.archivedAt?.toISOString() ?? null,
    version: row.version,
    createdAt: row.createdAt.toISOString(),
    updatedAt: row.updatedAt.toISOString(),
  }
}

/** @returns false when there is a customer of that id already */
export async function insertCustomer(db: Db, data: Prisma.CustomerCreateManyInput): Promise<boolean> {
  const { count } = await db.customer.createMany({ data, skipDuplicates: true })
  return count === 1
}

/** @returns false when the version seen is no longer the one stored */
export async function updateCustomer(
  db: Db,
  id: string,
  seen: number,
  change: Prisma.CustomerUpdateManyMutationInput,
): Promise<boolean> {
  const { count } = await db.customer.updateMany({
    where: { id, version: seen },
    data: { ...change, version: { increment: 1 } },
  })
  return count === 1
}

type Row = Omit<CustomerRow, 'archivedAt' | 'createdAt'> & { archivedAt: Date | null; createdAt: Date }
const rowOf = (row: Row): CustomerRow => ({
  ...row,
  archivedAt: row.archivedAt?.toISOString() ?? null,
  createdAt: row.createdAt.toISOString(),
})

const SEARCH = Prisma.raw('c.search')

/** Rows of a list: what is beside the name is looked up for the page alone, not for all that is stored. */
const listSql = (condition: Prisma.Sql, order: Prisma.Sql, limit: number) => Prisma.sql`
  SELECT c.id, c.kind, c.name, c.email::text AS email, c.phone, c.archived_at AS "archivedAt",
         c.created_at AS "createdAt", coalesce(homes.count, 0)::int AS homes, homes.address
    FROM (SELECT * FROM customer c ${condition} ORDER BY ${order} LIMIT ${limit}) c
    LEFT JOIN LATERAL (
      SELECT count(DISTINCT p.id) AS count, min(concat_ws(', ', p.line1, nullif(p.city, ''))) AS address
        FROM property_party x JOIN property p ON p.id = x.property_id
       WHERE x.customer_id = c.id AND x.until IS NULL) homes ON true
   ORDER BY ${order}`

const BY_NAME = Prisma.sql`c.name, c.id`

const filtered = (filters: CustomerFilters, ...more: (Prisma.Sql | null)[]) =>
  where(filters.archived ? Prisma.sql`c.archived_at IS NOT NULL` : Prisma.sql`c.archived_at IS NULL`, ...more)

/** By name, after the name and id given. */
export async function listCustomers(
  db: Db,
  filters: CustomerFilters,
  after: readonly [string, string] | null,
  limit: number,
): Promise<CustomerRow[]> {
  const condition = filtered(
    filters,
    filters.q ? contains(SEARCH, filters.q) : null,
    after && Prisma.sql`(c.name, c.id) > (${after[0]}, ${after[1]}::uuid)`,
  )
  return (await db.$queryRaw<Row[]>(listSql(condition, BY_NAME, limit))).map(rowOf)
}

/** Those that what was typed might have meant, best first. */
export async function listResembling(
  db: PrismaClient,
  filters: CustomerFilters & { q: string },
  limit: number,
): Promise<CustomerRow[]> {
  const condition = filtered(filters, resembles(SEARCH, filters.q))
  const order = Prisma.sql`${likeness(SEARCH, filters.q)} DESC, c.name, c.id`
  return (await forgivingly<Row>(db, listSql(condition, order, limit))).map(rowOf)
}

/** A customer with everything beside it, in one statement. */
export async function readCustomer(db: Db, id: string): Promise<CustomerView> {
  const [row] = await db.$queryRaw<{ customer: CustomerView }[]>`
    SELECT row_to_json(customer) AS customer FROM (
      SELECT c.id, c.kind, c.name, c.email::text AS email, c.phone, c.second_phone AS "secondPhone", c.language,
        c.address_lines AS "addressLines", c.notes, c.version, ${iso('c.archived_at')} AS "archivedAt",
        ${iso('c.created_at')} AS "createdAt", ${iso('c.updated_at')} AS "updatedAt",
        (SELECT json_build_object('reason', s.reason, 'detail', s.detail) FROM suppressed_address s WHERE s.email = c.email) AS "emailPutAside",
        (SELECT coalesce(json_agg(h ORDER BY h.current DESC, h.line1), '[]') FROM (
          SELECT p.id AS "propertyId", p.line1, p.line2, p.city, p.region, p.postcode,
            array_agg(x.role ORDER BY x.role) AS roles, bool_or(x.is_contact AND x.until IS NULL) AS "isContact",
            bool_or(x.until IS NULL) AS current
          FROM property_party x JOIN property p ON p.id = x.property_id
          WHERE x.customer_id = c.id GROUP BY p.id) h) AS homes,
        (SELECT coalesce(json_agg(v), '[]') FROM (
          SELECT v.id, v.property_id AS "propertyId", p.line1, v.kind, v.state,
            ${iso('v.window_starts_at')} AS "windowStartsAt", ${iso('v.window_ends_at')} AS "windowEndsAt",
            p.time_zone AS "timeZone", t.name AS "technicianName"
          FROM visit v JOIN property p ON p.id = v.property_id JOIN staff t ON t.id = v.technician_id
          WHERE v.customer_id = c.id ORDER BY v.starts_at DESC, v.id LIMIT 50) v) AS visits,
        (SELECT json_build_object(
          'total', count(*), 'failed', count(*) FILTER (WHERE m.state IN ('failed', 'bounced')),
          'lastSentAt', ${iso('max(m.sent_at)')},
          'latest', (SELECT coalesce(json_agg(l), '[]') FROM (
            SELECT l.id, l.kind, l.category, l.subject, l.state, ${iso('l.created_at')} AS "createdAt",
              ${iso('l.sent_at')} AS "sentAt"
            FROM message l WHERE l.customer_id = c.id ORDER BY l.created_at DESC, l.id LIMIT 20) l))
          FROM message m WHERE m.customer_id = c.id) AS messages
      FROM customer c WHERE c.id = ${id}::uuid) customer`
  if (!row) throw new Problem('not-found', 'There is no such customer.')
  return row.customer
}

/** The next visit that still stands, if there is one. */
export function findNextVisit(db: Db, of: { customerId: string } | { propertyId: string }, now: Date) {
  return db.visit.findFirst({
    where: { ...of, state: { in: ['booked', 'travelling', 'on-site'] }, endsAt: { gt: now } },
    orderBy: { startsAt: 'asc' },
    select: { startsAt: true, property: { select: { line1: true, timeZone: true } } },
  })
}
