import { z } from 'zod'
import { CHECKLIST } from '../../trade/checklist/checklist.ts'
import { progressByArea } from '../../trade/inspection/progress.ts'
import { isOffice } from '../../trade/permissions.ts'
import { RULES } from '../../trade/rules.ts'
import { evaluateHome } from '../../trade/whole-home/evaluate.ts'
import { allVerdicts } from '../../trade/whole-home/verdicts.ts'
import { theUser } from '../accounts/service.ts'
import type { Ctx } from '../ctx.ts'
import { everyPage } from '../csv.ts'
import { idSchema, newId } from '../ids.ts'
import { decodeCursor, type Page, toPage } from '../paging.ts'
import { asHome, jurisdictionOf } from './home-store.ts'
import { type After, listInspections as listRows, listReports } from './list-store.ts'
import { openOf, readWhole, type WholeInspection } from './record.ts'
import type { Written } from './record-store.ts'
import type { InspectionRecordView } from './record-schema.ts'
import type {
  InspectionFilter,
  InspectionSummary,
  InspectionView,
  ListQuery,
  VerdictsView,
} from './schema.ts'
import { beginInspection } from './starting.ts'
import { getInspection, getInspectionAtHome, type Inspection } from './store.ts'
import { checkMayFill } from './writing.ts'

const sortValues = (row: InspectionSummary): After => [row.visitStartsAt, row.id]
const cursorShape = z.tuple([z.iso.datetime(), idSchema])

export async function listInspections(ctx: Ctx, query: ListQuery): Promise<Page<InspectionSummary>> {
  const { cursor, limit, ...filter } = query
  const after = decodeCursor(cursor, cursorShape)
  const rows = await listRows(ctx.db, ownOnly(ctx, filter), after, limit + 1)
  return toPage(rows, limit, sortValues)
}

export function everyInspection(ctx: Ctx, filter: InspectionFilter): AsyncGenerator<InspectionSummary[]> {
  const own = ownOnly(ctx, filter)
  return everyPage((after: After | null, limit) => listRows(ctx.db, own, after, limit), sortValues)
}

/** A technician lists their own, whatever was asked for. */
function ownOnly(ctx: Ctx, filter: InspectionFilter): InspectionFilter {
  const user = theUser(ctx)
  return isOffice(user) ? filter : { ...filter, technicianId: user.id }
}

export async function startInspection(
  ctx: Ctx,
  body: { id?: string | undefined; visitId: string },
): Promise<InspectionView> {
  const { id } = await ctx.db.$transaction((tx) =>
    beginInspection(ctx, tx, { id: body.id ?? newId(), visitId: body.visitId, at: ctx.now() }),
  )
  return readInspection(ctx, id)
}

export async function readInspection(ctx: Ctx, id: string): Promise<InspectionView> {
  const inspection = await getInspection(ctx.db, id)
  checkMayFill(ctx, inspection)
  return viewOf(ctx, await readWhole(ctx.db, inspection))
}

async function viewOf(ctx: Ctx, whole: WholeInspection): Promise<InspectionView> {
  const { inspection, home, carried, record } = whole
  return {
    ...recordView(inspection, whole.written),
    visitId: inspection.visitId,
    propertyId: inspection.propertyId,
    technicianName: inspection.technicianName,
    ...shownHome(home),
    carried,
    lines: record.lines.map(({ key, area, item, subjectKind, subjectId, name, noneRecorded }) => ({
      key,
      areaId: area.id,
      areaTitle: area.title,
      itemId: item.id,
      title: item.title,
      subjectKind,
      subjectId,
      name,
      noneRecorded,
    })),
    open: inspection.state === 'open' ? openOf(whole) : [],
    progress: progressByArea(record.lines, record.answers, record.home),
    leftOut: record.leftOut.map(({ area, item, reason }) => ({
      areaId: area.id,
      itemId: item.id,
      title: item.title,
      reason,
    })),
    reports: await listReports(ctx.db, inspection.id),
  }
}

/** The home as it goes out. */
export function shownHome({ property, jurisdiction, spaces, equipment }: WholeInspection['home']) {
  return {
    property,
    jurisdiction: jurisdiction && {
      name: jurisdiction.name,
      isUs: jurisdiction.isUs,
      adoptions: jurisdiction.adoptions.map((each) => ({ ...each })),
      amendments: jurisdiction.amendments.map((each) => ({ ...each })),
    },
    spaces,
    equipment,
  }
}

export function recordView(inspection: Inspection, written: Written): InspectionRecordView {
  return {
    id: inspection.id,
    version: inspection.version,
    state: inspection.state,
    checklistVersion: inspection.checklistVersion,
    technicianId: inspection.technicianId,
    startedAt: inspection.startedAt.toISOString(),
    completedAt: inspection.completedAt?.toISOString() ?? null,
    completedOn: inspection.completedOn,
    note: inspection.note,
    workDeclined: inspection.workDeclined,
    ...written,
  }
}

/** Every rule about the home, judged today; with the item beside which each verdict is read first. */
export async function readVerdicts(ctx: Ctx, id: string): Promise<VerdictsView> {
  const { inspection, home } = await getInspectionAtHome(ctx.db, id)
  checkMayFill(ctx, inspection)
  const today = ctx.today(inspection.timeZone)
  const verdicts = allVerdicts(evaluateHome(asHome(home), jurisdictionOf(home), today))
  return {
    verdicts: verdicts.map(({ subjectKind, subjectId, verdict }) => ({
      subjectKind,
      subjectId,
      itemId: RULES.spokenAt[verdict.rule]?.[0] ?? null,
      verdict: { ...verdict },
    })),
  }
}

export const CHECKLIST_VERSION = CHECKLIST.version
