import { CHECKLIST } from '../../../trade/checklist/checklist.ts'
import type { Home } from '../../../trade/home.ts'
import type { InspectionRecord } from '../../../trade/inspection/completeness.ts'
import { type Line, linesOf } from '../../../trade/inspection/lines.ts'
import type { Answer, Finding } from '../../../trade/inspection/records.ts'
import type { Property } from '../../../trade/property.ts'

export const UNKNOWN_PROPERTY: Property = {
  yearBuilt: null,
  yearAltered: null,
  levels: null,
  areaSqFt: null,
  fuels: null,
  hasGasPiping: null,
  garage: null,
  garageOpensIntoHome: null,
  tenure: null,
  lastInspectedOn: null,
  soldOn: null,
}

export function buildHome(home: Partial<Home> = {}): Home {
  return { property: UNKNOWN_PROPERTY, spaces: [], equipment: [], ...home }
}

/** An answer to a line: ok, with every reading that the item needs. */
export function answerTo(line: Line, answer: Partial<Answer> = {}): Answer {
  const readings = Object.fromEntries((line.item.required ?? []).map((name) => [name, true]))
  const { subjectKind, subjectId } = line
  return { itemId: line.item.id, subjectKind, subjectId, result: 'ok', readings, ...answer }
}

/** A finding at the home, written out and repairable. */
export function buildFinding(finding: Partial<Finding> = {}): Finding {
  return {
    id: 'finding-1',
    itemId: 'panel-cover-off.load',
    spaceId: null,
    equipmentId: null,
    severity: 'repair',
    proposedSeverity: null,
    text: 'Loose lug',
    state: 'open',
    ...finding,
  }
}

/** An inspection with every line answered ok. */
export function buildRecord(
  record: Partial<InspectionRecord> = {},
): InspectionRecord & { lines: readonly Line[] } {
  const home = record.home ?? buildHome()
  const lines = record.lines ?? linesOf(home, CHECKLIST)
  return {
    home,
    lines,
    answers: lines.map((line) => answerTo(line)),
    findings: [],
    carried: [],
    reviews: [],
    ...record,
  }
}

/** The record with the answers of some items changed. */
export function withAnswers(
  record: InspectionRecord,
  changes: Readonly<Record<string, Partial<Answer> | null>>,
): InspectionRecord {
  const answers = record.answers.flatMap((answer) => {
    const change = changes[answer.itemId]
    if (change === null) return []
    return [change ? { ...answer, ...change } : answer]
  })
  return { ...record, answers }
}
