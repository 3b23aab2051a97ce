import { dayInWords } from '../../trade/day-in-words.ts'
import { Problem } from '../errors.ts'
import { resized } from '../photos/picture.ts'
import { reportPage } from '../reports/page.ts'
import { getReport, type StoredReport } from '../reports/store.ts'
import { dayInZone } from '../time.ts'
import { askForm, type Typed } from './ask.ts'
import type { Visitor } from './entry.ts'
import { findNewerReport } from './store.ts'

/** The report of a link, and no other. */
async function reportOf({ ctx, link }: Visitor): Promise<StoredReport> {
  if (link.purpose !== 'report' || !link.subjectId) throw new Problem('not-found', 'There is no such report.')
  return getReport(ctx.db, link.subjectId)
}

export async function reportFacts(visitor: Visitor, fault: string | null = null, typed: Typed | null = null) {
  const { ctx, link, words, base, homes } = visitor
  const report = await reportOf(visitor)
  const newer = await findNewerReport(ctx.db, report)
  return {
    title: words.reportTitle,
    fault,
    report: reportPage(report.content, { photoUrl: ({ sha256 }) => `${base}/photos/${sha256}` }),
    newer: newer && dayInWords(dayInZone(newer.issuedAt, homes[0]?.timeZone ?? 'UTC'), link.language),
    ask: homes[0] ? await askForm(visitor, homes[0].id, [], typed) : null,
  }
}

export async function reportPdf(visitor: Visitor): Promise<{ bytes: Buffer; name: string }> {
  const report = await reportOf(visitor)
  const bytes = await visitor.ctx.files.get(report.pdfSha256)
  if (!bytes) throw new Problem('not-found', 'The PDF is missing from the store.')
  const { line1 } = report.content.property
  const place = line1.replace(/[^\w]+/g, '-').replace(/^-|-$/g, '')
  return { bytes, name: `Inspection-${place}-${report.content.inspection.inspectedOn}.pdf` }
}

/** Wide enough for any screen; the original stays with the company. */
const SHOWN_PX = 1600

/** A photo of this very report. */
export async function reportPhoto(visitor: Visitor, sha256: string): Promise<Buffer> {
  const { content } = await reportOf(visitor)
  const photos = content.findings.flatMap(({ findings }) => findings.flatMap((finding) => finding.photos))
  const stored = photos.some((photo) => photo.sha256 === sha256) ? await visitor.ctx.files.get(sha256) : null
  if (!stored) throw new Problem('not-found', 'There is no such picture here.')
  return resized(stored, SHOWN_PX)
}
