import type { Day } from '../../trade/dates.ts'
import { mayIssueReport } from '../../trade/permissions.ts'
import { theUser } from '../accounts/service.ts'
import { audit } from '../audit/store.ts'
import type { Ctx } from '../ctx.ts'
import type { Db } from '../db.ts'
import { invalid, Problem } from '../errors.ts'
import { newId } from '../ids.ts'
import { incomplete } from '../inspections/completion.ts'
import { listReports as listVersions } from '../inspections/list-store.ts'
import { openOf, readWhole, type WholeInspection } from '../inspections/record.ts'
import type { ReportSummary } from '../inspections/schema.ts'
import { getInspection, type Inspection, lockInspection, updateInspection } from '../inspections/store.ts'
import { checkMayFill } from '../inspections/writing.ts'
import { planMessage } from '../messages/service.ts'
import { resized } from '../photos/picture.ts'
import { getCompany } from '../settings/store.ts'
import { composeReport } from './compose.ts'
import { hashOf, type ReportContent } from './content.ts'
import { reportPage } from './page.ts'
import type { Pictures } from './pdf/photos.ts'
import { renderReport } from './pdf/render.ts'
import type { IssueBody, PreviewView, ReportView } from './schema.ts'
import * as store from './store.ts'

/** Long side of a photo in the PDF, in pixels: sharp at the size it is printed, small enough to be mailed. */
const PRINTED_PX = 1200

/** Where staff find the picture. */
const staffPhotoUrl = ({ id }: { id: string }) => `/api/v1/photos/${id}/picture`

/**
 * Freezes an inspection as the next version of its report, and writes to the customer. A later version says why it was
 * needed; the earlier ones stay as they are.
 */
export async function issueReport(ctx: Ctx, inspectionId: string, body: IssueBody): Promise<ReportView> {
  const before = await readWhole(ctx.db, await getInspection(ctx.db, inspectionId))
  checkMayIssue(ctx, before)
  const { version, content } = await compose(ctx, ctx.db, before, body.reason)
  if (version > 1 && !body.reason) {
    throw invalid({ pointer: '#/reason', detail: 'say what is corrected in this version' })
  }
  const sha256 = hashOf(content)
  // The PDF takes a moment, so it is made before the transaction, which then checks that nothing has changed.
  const pdf = await renderReport(content, await picturesOf(ctx, content))
  const pdfSha256 = await ctx.files.put(pdf)
  const report = { id: newId(), inspectionId, version, content, sha256, pdfSha256, reason: body.reason }
  const issued = { ...report, issuedById: theUser(ctx).id, issuedAt: ctx.now() }

  const messageId = await ctx.db.$transaction(async (tx) => {
    const whole = await readWhole(tx, await lockInspection(tx, inspectionId))
    const now = await compose(ctx, tx, whole, body.reason)
    if (hashOf(now.content) !== sha256) {
      throw new Problem('changed-meanwhile', 'Something was changed while the report was being made; issue it again.')
    }
    await store.insertReport(tx, issued)
    await updateInspection(tx, inspectionId, ctx.now(), { state: 'issued' })
    await audit(ctx, tx, {
      action: 'report.issue',
      subjectKind: 'report',
      subjectId: report.id,
      after: { inspectionId, version, reason: body.reason },
    })
    return tellCustomer(ctx, tx, whole, issued)
  })
  if (messageId) await ctx.enqueue('send-message', { messageId })
  return viewOf(issued)
}

function checkMayIssue(ctx: Ctx, whole: WholeInspection): void {
  const { inspection } = whole
  if (!mayIssueReport(theUser(ctx), inspection)) {
    throw new Problem('not-allowed', `This inspection belongs to ${inspection.technicianName}.`)
  }
  const open = openOf(whole)
  if (inspection.state === 'open') {
    if (open.length > 0) throw incomplete(open)
    throw new Problem('wrong-state', 'Complete the inspection first; then its report can be issued.')
  }
  // Lines were all answered when it was completed; the home may have grown since. Findings may have been changed.
  const unsettled = open.filter((each) => each.findingId !== null)
  if (unsettled.length > 0) throw incomplete(unsettled)
}

async function compose(
  ctx: Ctx,
  db: Db,
  whole: WholeInspection,
  reason: string,
): Promise<{ version: number; content: ReportContent }> {
  const { inspection, carried } = whole
  const version = (await store.findLatestVersion(db, inspection.id)) + 1
  const company = await getCompany(db)
  const findingIds = carried.map(({ id }) => id)
  const content = composeReport(whole, {
    version,
    reason,
    issuedOn: ctx.today(inspection.timeZone),
    issuedBy: theUser(ctx).name,
    inspectedOn: inspectedOn(ctx, inspection),
    company: {
      name: company.name,
      phone: company.phone,
      email: company.email,
      addressLines: company.addressLines,
    },
    customer: { name: (await store.getCustomerOfVisit(db, inspection.visitId)).name },
    photos: await store.listPhotos(db, inspection.id, findingIds),
  })
  return { version, content }
}

function inspectedOn(ctx: Ctx, { completedOn, timeZone }: Inspection): Day {
  return completedOn ?? ctx.today(timeZone)
}

/** The pictures as they are printed, by hash. One that the store has lost is left out, and logged. */
async function picturesOf(ctx: Ctx, content: ReportContent): Promise<Pictures> {
  const pictures = new Map<string, Buffer>()
  for (const { sha256 } of content.findings.flatMap(({ findings }) => findings.flatMap(({ photos }) => photos))) {
    if (pictures.has(sha256)) continue
    const stored = await ctx.files.get(sha256)
    if (stored) pictures.set(sha256, await resized(stored, PRINTED_PX))
    else ctx.log.error({ sha256 }, 'a picture of a report is missing from the file store')
  }
  return pictures
}

async function tellCustomer(
  ctx: Ctx,
  tx: Db,
  { inspection }: WholeInspection,
  report: store.StoredReport,
): Promise<string | null> {
  const customer = await store.getCustomerOfVisit(tx, inspection.visitId)
  return planMessage(ctx, tx, {
    kind: 'report-issued',
    category: 'report',
    customerId: customer.id,
    propertyId: inspection.propertyId,
    visitId: inspection.visitId,
    dedupeKey: `report-issued-${report.id}`,
    context: { reportId: report.id, inspectionId: inspection.id },
    reason: report.version === 1 ? 'The report was issued.' : `The report was corrected: ${report.reason}`,
  })
}

/** What would be frozen now, and what is still in the way of it. */
export async function previewReport(ctx: Ctx, inspectionId: string): Promise<PreviewView> {
  const whole = await readWhole(ctx.db, await getInspection(ctx.db, inspectionId))
  checkMayFill(ctx, whole.inspection)
  const { content } = await compose(ctx, ctx.db, whole, '')
  const open = openOf(whole).filter(
    (each) => whole.inspection.state === 'open' || each.findingId !== null,
  )
  return { content: { ...content }, html: reportPage(content, { photoUrl: staffPhotoUrl }), open }
}

export async function listReports(ctx: Ctx, inspectionId: string): Promise<ReportSummary[]> {
  checkMayFill(ctx, await getInspection(ctx.db, inspectionId))
  return listVersions(ctx.db, inspectionId)
}

export async function readReport(ctx: Ctx, id: string): Promise<ReportView> {
  return viewOf(await reachReport(ctx, id))
}

export async function readPdf(ctx: Ctx, id: string): Promise<{ pdf: Buffer; name: string }> {
  return pdfOf(ctx, await reachReport(ctx, id))
}

async function reachReport(ctx: Ctx, id: string): Promise<store.StoredReport> {
  const report = await store.getReport(ctx.db, id)
  checkMayFill(ctx, await getInspection(ctx.db, report.inspectionId))
  return report
}

/** The PDF as it was issued. Whoever asks has been let in already: staff above, a homeowner by their link. */
export async function pdfOf(ctx: Ctx, report: store.StoredReport): Promise<{ pdf: Buffer; name: string }> {
  const pdf = await ctx.files.get(report.pdfSha256)
  if (!pdf) {
    ctx.log.error({ report: report.id, sha256: report.pdfSha256 }, 'a PDF is missing from the file store')
    throw new Problem('not-found', 'The PDF is missing from the store; restore it from the backup.')
  }
  const address = report.content.property.line1.replace(/[^A-Za-z0-9]+/g, '-').replace(/^-|-$/g, '')
  return { pdf, name: `inspection-${address || 'report'}-v${report.version}.pdf` }
}

function viewOf(report: store.StoredReport): ReportView {
  return {
    id: report.id,
    inspectionId: report.inspectionId,
    version: report.version,
    sha256: report.sha256,
    reason: report.reason,
    issuedById: report.issuedById,
    issuedAt: report.issuedAt.toISOString(),
    content: { ...report.content },
    html: reportPage(report.content, { photoUrl: staffPhotoUrl }),
  }
}
