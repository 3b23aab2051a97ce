import { CHECKLIST } from '../../../trade/checklist/checklist.ts'
import type { Day } from '../../../trade/dates.ts'
import type { Equipment } from '../../../trade/equipment.ts'
import type { Home } from '../../../trade/home.ts'
import { type Open, whatIsOpen } from '../../../trade/inspection/completeness.ts'
import { impliedAnswers } from '../../../trade/inspection/covers.ts'
import { leftOut, type Line, lineKey, linesOf } from '../../../trade/inspection/lines.ts'
import { type AreaProgress, progressByArea } from '../../../trade/inspection/progress.ts'
import type { Answer, Finding, Review } from '../../../trade/inspection/records.ts'
import type { Property, Space } from '../../../trade/property.ts'
import type { Verdict } from '../../../trade/verdict.ts'
import type { Jurisdiction } from '../../../trade/whole-home/context.ts'
import { evaluateHome, type HomeVerdicts } from '../../../trade/whole-home/evaluate.ts'
import { judgeReadings } from '../../../trade/whole-home/judge-readings.ts'
import { verdictsFor } from '../../../trade/whole-home/verdicts.ts'
import { dayInZone } from '../../shared/format.ts'
import type { Sheet } from '../offline/sheet.ts'

/** An inspection as the trade sees it: the same functions judge here, on the server and in the report. */
export interface Inspection {
  sheet: Sheet
  home: Home
  jurisdiction: Jurisdiction
  today: Day
  lines: readonly Line[]
  leftOut: ReturnType<typeof leftOut>
  progress: readonly AreaProgress[]
  open: readonly Open[]
  answerAt: (line: Line) => Answer | undefined
  findingsAt: (line: Line) => readonly Finding[]
  verdictsAt: (line: Line) => Verdict[]
}

const NO_JURISDICTION: Jurisdiction = { name: '', isUs: true, adoptions: [], amendments: [] }

export function inspectionOf(sheet: Sheet, now = new Date()): Inspection {
  const home: Home = {
    property: sheet.property as unknown as Property,
    spaces: sheet.spaces as unknown as Space[],
    equipment: sheet.equipment as unknown as Equipment[],
  }
  const jurisdiction = (sheet.jurisdiction as Jurisdiction | null) ?? NO_JURISDICTION
  const today = dayInZone(now, sheet.property.timeZone) as Day
  const lines = linesOf(home, CHECKLIST)
  const answers = (sheet.inspection?.answers ?? []) as unknown as Answer[]
  const findings = (sheet.inspection?.findings ?? []) as unknown as Finding[]
  const carried = sheet.carried as unknown as Finding[]
  const reviews = (sheet.inspection?.reviews ?? []) as unknown as Review[]
  const given = new Map(
    [...impliedAnswers(lines, answers, home), ...answers].map((each) => [
      lineKey(each.itemId, each.subjectId),
      each,
    ]),
  )
  const evaluated = once(() => evaluateHome(home, jurisdiction, today))
  return {
    sheet,
    home,
    jurisdiction,
    today,
    lines,
    leftOut: leftOut(home, CHECKLIST),
    progress: progressByArea(lines, answers, home),
    open: whatIsOpen({ home, lines, answers, findings, carried, reviews }),
    answerAt: (line) => given.get(line.key),
    findingsAt: (line) =>
      findings.filter((each) => lineKey(each.itemId, each.equipmentId ?? each.spaceId) === line.key),
    verdictsAt: (line) => verdictsAt(line, given.get(line.key), home, jurisdiction, today, evaluated()),
  }
}

function verdictsAt(
  line: Line,
  answer: Answer | undefined,
  home: Home,
  jurisdiction: Jurisdiction,
  today: Day,
  evaluated: HomeVerdicts,
): Verdict[] {
  const space =
    line.subjectKind === 'space' ? (home.spaces.find((each) => each.id === line.subjectId) ?? null) : null
  const ofReadings = judgeReadings(line.item, answer?.readings ?? {}, { space }, home, jurisdiction, today)
  return [...verdictsFor(line, evaluated), ...ofReadings]
}

function once<Value>(make: () => Value): () => Value {
  let value: { made: Value } | null = null
  return () => (value ??= { made: make() }).made
}

/** The gravest verdict first; what could not be judged after what could. */
export function inOrderOfWeight(verdicts: readonly Verdict[]): Verdict[] {
  const weight = (verdict: Verdict) =>
    verdict.outcome === 'finding'
      ? ['unsafe', 'repair', 'investigate', 'improve', 'watch'].indexOf(verdict.severity)
      : { undetermined: 6, sound: 5, 'not-applicable': 9 }[verdict.outcome]
  return verdicts.toSorted((a, b) => weight(a) - weight(b))
}
