import type { Prisma } from '../../prisma/generated/client.ts'
import type { Db } from '../db.ts'
import { Problem } from '../errors.ts'
import { photoView } from '../inspections/record-store.ts'
import type { PhotoView } from '../inspections/record-schema.ts'
import { type ReportContent, reportContent } from './content.ts'

export interface StoredReport {
  id: string
  inspectionId: string
  version: number
  content: ReportContent
  /** Hexadecimal. */
  sha256: string
  pdfSha256: string
  reason: string
  issuedById: string
  issuedAt: Date
}

const hex = (bytes: Uint8Array) => Buffer.from(bytes).toString('hex')
const bytesOf = (text: string) => Uint8Array.from(Buffer.from(text, 'hex'))

export async function findReport(db: Db, id: string): Promise<StoredReport | null> {
  const row = await db.report.findUnique({ where: { id } })
  if (!row) return null
  return {
    ...row,
    content: reportContent.parse(row.content),
    sha256: hex(row.sha256),
    pdfSha256: hex(row.pdfSha256),
  }
}

export async function getReport(db: Db, id: string): Promise<StoredReport> {
  const report = await findReport(db, id)
  if (!report) throw new Problem('not-found', 'There is no such report.')
  return report
}

export async function findLatestVersion(db: Db, inspectionId: string): Promise<number> {
  const { _max } = await db.report.aggregate({ where: { inspectionId }, _max: { version: true } })
  return _max.version ?? 0
}

export async function insertReport(tx: Db, report: StoredReport): Promise<void> {
  await tx.report.create({
    data: {
      ...report,
      content: report.content as unknown as Prisma.InputJsonObject,
      sha256: bytesOf(report.sha256),
      pdfSha256: bytesOf(report.pdfSha256),
    },
  })
}

/** Photos of this inspection, and those of findings that came over from earlier ones. */
export async function listPhotos(
  db: Db,
  inspectionId: string,
  findingIds: readonly string[],
): Promise<PhotoView[]> {
  const rows = await db.photo.findMany({
    where: { OR: [{ inspectionId }, { findingId: { in: [...findingIds] } }] },
    orderBy: { id: 'asc' },
  })
  return rows.map(photoView)
}

/** Whom the visit was for. */
export async function getCustomerOfVisit(db: Db, visitId: string): Promise<{ id: string; name: string }> {
  const { customer } = await db.visit.findUniqueOrThrow({
    where: { id: visitId },
    select: { customer: { select: { id: true, name: true } } },
  })
  return customer
}
