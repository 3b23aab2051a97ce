import { Prisma } from '../../prisma/generated/client.ts'
import { sumsOf } from '../../trade/estimates/money.ts'
import type { Db } from '../db.ts'
import { groupBy } from '../follow-ups/group.ts'
import { contains } from '../search/forgiving.ts'
import { where } from '../sql-shapes.ts'
import { toDay } from '../time.ts'
import type { EstimateFilters, EstimateRow } from './schema.ts'

type Row = Omit<EstimateRow, 'totalCents' | 'expiresOn' | 'sentAt' | 'decidedAt' | 'createdAt'> & {
  expiresOn: Date | null
  sentAt: Date | null
  decidedAt: Date | null
  createdAt: Date
}

const TEXT = Prisma.raw(`(p.search || ' ' || c.search)`)

/** The latest first. The sums are those of trade/estimates: nothing is reckoned a second time in SQL. */
export async function listEstimates(
  db: Db,
  filters: EstimateFilters,
  after: readonly [number] | null,
  limit: number,
): Promise<EstimateRow[]> {
  const condition = where(
    filters.state && Prisma.sql`x.state = ${filters.state}`,
    filters.propertyId && Prisma.sql`x.property_id = ${filters.propertyId}::uuid`,
    filters.customerId && Prisma.sql`x.customer_id = ${filters.customerId}::uuid`,
    filters.q && contains(TEXT, filters.q),
    after && Prisma.sql`x.number < ${after[0]}::int`,
  )
  const rows = await db.$queryRaw<Row[]>`
    SELECT x.id, x.number, x.state, x.property_id AS "propertyId", p.line1, p.city, p.time_zone AS "timeZone",
           x.customer_id AS "customerId", c.name AS "customerName", c.phone AS "customerPhone", x.expires_on AS "expiresOn", x.sent_at AS "sentAt",
           x.decided_at AS "decidedAt", x.created_at AS "createdAt"
      FROM estimate x JOIN property p ON p.id = x.property_id JOIN customer c ON c.id = x.customer_id
     ${condition} ORDER BY x.number DESC LIMIT ${limit}`
  const lines = await db.estimateLine.findMany({ where: { estimateId: { in: rows.map(({ id }) => id) } } })
  const byEstimate = groupBy(lines, ({ estimateId }) => estimateId)
  return rows.map((row) => {
    const its = byEstimate.get(row.id) ?? []
    const taken = row.state === 'accepted' ? its.filter(({ decision }) => decision === 'accepted') : its
    return {
      ...row,
      totalCents: sumsOf(taken).totalCents,
      expiresOn: toDay(row.expiresOn),
      sentAt: row.sentAt?.toISOString() ?? null,
      decidedAt: row.decidedAt?.toISOString() ?? null,
      createdAt: row.createdAt.toISOString(),
    }
  })
}
