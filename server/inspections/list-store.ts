import { Prisma } from '../../prisma/generated/client.ts'
import type { Db } from '../db.ts'
import { contains } from '../search/forgiving.ts'
import { iso, where } from '../sql-shapes.ts'
import type { InspectionFilter, InspectionSummary, ReportSummary } from './schema.ts'

/** Start of the visit (ISO) and id of the last row read. */
export type After = [string, string]

/** Newest visit first. `technicianId` of the filter is the technician's own when one asks. Days are the home's. */
export function listInspections(
  db: Db,
  filter: InspectionFilter,
  after: After | null,
  limit: number,
): Promise<InspectionSummary[]> {
  const { state, technicianId, propertyId, from, to, search } = filter
  const condition = where(
    state && Prisma.sql`i.state = ${state}`,
    technicianId && Prisma.sql`i.technician_id = ${technicianId}::uuid`,
    propertyId && Prisma.sql`i.property_id = ${propertyId}::uuid`,
    from && Prisma.sql`v.starts_at >= ${from}::date::timestamp AT TIME ZONE p.time_zone`,
    to && Prisma.sql`v.starts_at < (${to}::date + 1)::timestamp AT TIME ZONE p.time_zone`,
    search &&
      Prisma.sql`(${contains(Prisma.raw('p.search'), search)} OR ${contains(Prisma.raw('c.search'), search)})`,
    after && Prisma.sql`(v.starts_at, i.id) < (${after[0]}::timestamptz, ${after[1]}::uuid)`,
  )
  return db.$queryRaw<InspectionSummary[]>`
    SELECT page.*, t.name AS "technicianName",
           coalesce(f.findings, 0)::int AS findings, coalesce(f.unsafe, 0)::int AS unsafe, r.version AS "reportVersion"
      FROM (
        SELECT i.id::text, i.version, i.state, i.visit_id::text AS "visitId", i.property_id::text AS "propertyId",
               p.line1, p.city, c.name AS "customerName", i.technician_id::text AS "technicianId",
               ${iso('v.starts_at')} AS "visitStartsAt", ${iso('i.started_at')} AS "startedAt",
               ${iso('i.completed_at')} AS "completedAt", i.completed_on::text AS "completedOn"
          FROM inspection i JOIN visit v ON v.id = i.visit_id JOIN property p ON p.id = i.property_id
          JOIN customer c ON c.id = v.customer_id
          ${condition}
         ORDER BY v.starts_at DESC, i.id DESC LIMIT ${limit}) page
      JOIN staff t ON t.id = page."technicianId"::uuid
      LEFT JOIN LATERAL (
        SELECT count(*) AS findings, count(*) FILTER (WHERE severity = 'unsafe') AS unsafe
          FROM finding WHERE inspection_id = page.id::uuid) f ON true
      LEFT JOIN LATERAL (
        SELECT max(version) AS version FROM report WHERE inspection_id = page.id::uuid) r ON true
     ORDER BY page."visitStartsAt" DESC, page.id DESC`
}

/** Issued versions, newest first, without their content. */
export async function listReports(db: Db, inspectionId: string): Promise<ReportSummary[]> {
  const rows = await db.report.findMany({
    where: { inspectionId },
    orderBy: { version: 'desc' },
    select: {
      id: true,
      inspectionId: true,
      version: true,
      sha256: true,
      reason: true,
      issuedById: true,
      issuedAt: true,
    },
  })
  return rows.map((row) => ({
    ...row,
    sha256: Buffer.from(row.sha256).toString('hex'),
    issuedAt: row.issuedAt.toISOString(),
  }))
}
