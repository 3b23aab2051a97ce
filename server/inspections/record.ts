import { CHECKLIST } from '../../trade/checklist/checklist.ts'
import { type InspectionRecord, type Open, whatIsOpen } from '../../trade/inspection/completeness.ts'
import { impliedAnswers } from '../../trade/inspection/covers.ts'
import { leftOut, type LeftOut, linesOf } from '../../trade/inspection/lines.ts'
import type { Db } from '../db.ts'
import { asHome, getHome, type HomeRecord } from './home-store.ts'
import { asAnswer, asFinding, asReview, listCarried, listWritten, type Written } from './record-store.ts'
import type { FindingView } from './record-schema.ts'
import type { Inspection } from './store.ts'

/** Everything about one inspection: as it is stored and shown, and as the trade reads it. */
export interface WholeInspection {
  inspection: Inspection
  home: HomeRecord
  written: Written
  carried: FindingView[]
  record: InspectionRecord & { leftOut: readonly LeftOut[] }
}

export async function readWhole(db: Db, inspection: Inspection): Promise<WholeInspection> {
  const home = await getHome(db, inspection.propertyId)
  const written = (await listWritten(db, [inspection.id])).get(inspection.id)!
  const carried = await listCarried(db, inspection)
  const asRead = asHome(home)
  const record = {
    home: asRead,
    lines: linesOf(asRead, CHECKLIST),
    answers: written.answers.map(asAnswer),
    findings: written.findings.map(asFinding),
    carried: carried.map(asFinding),
    reviews: written.reviews.map(asReview),
    leftOut: leftOut(asRead, CHECKLIST),
  }
  return { inspection, home, written, carried, record }
}

/** What still has to be done; nothing once it is complete. */
export function openOf({ record }: WholeInspection): Open[] {
  return whatIsOpen(record)
}

export function impliedOf({ record }: WholeInspection) {
  return impliedAnswers(record.lines, record.answers, record.home)
}
