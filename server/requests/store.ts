import { Prisma, type PrismaClient } from '../../prisma/generated/client.ts'
import type { Db } from '../db.ts'
import { Problem } from '../errors.ts'
import { contains, forgivingly, likeness, resembles } from '../search/forgiving.ts'
import { where } from '../sql-shapes.ts'
import { toDay } from '../time.ts'
import type { RequestListQuery, RequestView } from './schema.ts'

type Row = Omit<RequestView, 'preferredDays' | 'createdAt'> & { preferredDays: Date[]; createdAt: Date }
const rowOf = (row: Row): RequestView => ({
  ...row,
  preferredDays: row.preferredDays.map((each) => toDay(each)),
  createdAt: row.createdAt.toISOString(),
})

const select = (condition: Prisma.Sql, order = Prisma.empty, limit = 1) => Prisma.sql`
  SELECT q.id, q.customer_id AS "customerId", c.name AS "customerName", c.phone AS "customerPhone",
         c.email::text AS "customerEmail", q.property_id AS "propertyId", p.line1, p.line2, p.city, p.postcode,
         p.time_zone AS "timeZone", q.kind, q.reason, q.preferred_days AS "preferredDays",
         q.preferred_time AS "preferredTime", q.note, q.source, q.state, q.closed_reason AS "closedReason",
         (SELECT v.id FROM visit v WHERE v.request_id = q.id AND v.state NOT IN ('cancelled', 'no-access')
           ORDER BY v.starts_at DESC LIMIT 1) AS "visitId", q.version, q.created_at AS "createdAt"
    FROM visit_request q JOIN customer c ON c.id = q.customer_id JOIN property p ON p.id = q.property_id
   ${condition} ${order} LIMIT ${limit}`

export async function findRequest(db: Db, id: string): Promise<RequestView | null> {
  const [row] = await db.$queryRaw<Row[]>(select(Prisma.sql`WHERE q.id = ${id}::uuid`))
  return row ? rowOf(row) : null
}

export async function getRequest(db: Db, id: string): Promise<RequestView> {
  const request = await findRequest(db, id)
  if (!request) throw new Problem('not-found', 'There is no such request.')
  return request
}

export async function insertRequest(db: Db, data: Prisma.VisitRequestUncheckedCreateInput): Promise<void> {
  await db.visitRequest.create({ data })
}

/** @returns false when the version seen is no longer the one stored */
export async function updateRequest(
  db: Db,
  id: string,
  seen: number,
  change: Prisma.VisitRequestUpdateManyMutationInput,
): Promise<boolean> {
  const { count } = await db.visitRequest.updateMany({
    where: { id, version: seen },
    data: { ...change, version: { increment: 1 } },
  })
  return count === 1
}

/** From one state to another in one statement. @returns false when it was in another state */
export async function moveRequest(
  db: Db,
  id: string,
  from: RequestView['state'],
  to: RequestView['state'],
  now: Date,
): Promise<boolean> {
  const { count } = await db.visitRequest.updateMany({
    where: { id, state: from },
    data: { state: to, version: { increment: 1 }, updatedAt: now },
  })
  return count === 1
}

type Filters = Omit<RequestListQuery, 'cursor' | 'limit'>

const filtered = (filters: Filters, ...more: (Prisma.Sql | null)[]) =>
  where(
    Prisma.sql`q.state = ${filters.state}`,
    filters.propertyId && Prisma.sql`q.property_id = ${filters.propertyId}::uuid`,
    filters.customerId && Prisma.sql`q.customer_id = ${filters.customerId}::uuid`,
    ...more,
  )

const TEXT = Prisma.raw(`(p.search || ' ' || c.search)`)

/** Oldest first while they wait, latest first otherwise. */
export async function listRequests(
  db: Db,
  filters: Filters,
  after: readonly [string, string] | null,
  limit: number,
): Promise<RequestView[]> {
  const waiting = filters.state === 'waiting'
  const [than, direction] = waiting ? [Prisma.sql`>`, Prisma.sql`ASC`] : [Prisma.sql`<`, Prisma.sql`DESC`]
  const condition = filtered(
    filters,
    filters.q ? contains(TEXT, filters.q) : null,
    after && Prisma.sql`(q.created_at, q.id) ${than} (${after[0]}::timestamptz, ${after[1]}::uuid)`,
  )
  const order = Prisma.sql`ORDER BY q.created_at ${direction}, q.id ${direction}`
  return (await db.$queryRaw<Row[]>(select(condition, order, limit))).map(rowOf)
}

/** Those that what was typed might have meant, best first. */
export async function listResembling(
  db: PrismaClient,
  filters: Filters & { q: string },
  limit: number,
): Promise<RequestView[]> {
  const condition = filtered(filters, resembles(TEXT, filters.q))
  const order = Prisma.sql`ORDER BY ${likeness(TEXT, filters.q)} DESC, q.created_at, q.id`
  return (await forgivingly<Row>(db, select(condition, order, limit))).map(rowOf)
}
