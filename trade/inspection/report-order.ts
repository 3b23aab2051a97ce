import type { Equipment } from '../equipment.ts'
import type { Severity } from '../verdict.ts'
import type { InspectionRecord } from './completeness.ts'
import { byLine, impliedAnswers } from './covers.ts'
import { isClosed, stateAfterReview } from './finding-states.ts'
import type { LeftOut, Line } from './lines.ts'
import type { Answer, Finding, Review } from './records.ts'
import { reportCautions } from './report-cautions.ts'
import { type DeviceDates, type DatedDevice, datedDevices } from './report-devices.ts'
import { gravity, isSettledUnsafe, SEVERITY_WORDS } from './severity.ts'

/** The one thing people want to know first. */
export const ANSWERS = {
  'not-safe': 'Not safe to use as it is.',
  'made-safe': 'Safe to use for now: what was unsafe was made safe and still has to be put right.',
  'repairs-needed': 'Nothing unsafe was seen. Some things need repair.',
  'more-work-needed': 'Nothing unsafe was seen, but some things cannot be judged without more work.',
  sound: 'Nothing unsafe and nothing in need of repair was seen.',
} as const
export type SafetyAnswer = keyof typeof ANSWERS

export interface ReportFinding {
  finding: Finding
  /** What people call the place or thing. Empty for the home. */
  name: string
  /** The item's plain words: why it matters. */
  plain: string
  /** It was already there at an earlier inspection. */
  carried: boolean
}

/** One report, in the order in which it is read; the page and the PDF print this and nothing else. */
export interface ReportContents {
  answer: {
    safety: SafetyAnswer
    headline: string
    /** Said beside the headline when something could not be inspected. */
    limits: string | null
    /** What to do first: everything unsafe, or else the gravest few. */
    first: readonly ReportFinding[]
  }
  /** Gravest first; only severities that occur. */
  findings: readonly {
    severity: Severity
    title: string
    meaning: string
    findings: readonly ReportFinding[]
  }[]
  devices: readonly DatedDevice[]
  good: readonly { areaId: string; title: string; lines: readonly Line[] }[]
  /** Findings of earlier inspections that are put right or gone. */
  settled: readonly { finding: Finding; review: Review }[]
  notInspected: readonly { line: Line; answer: Answer }[]
  leftOut: readonly LeftOut[]
  cautions: readonly string[]
}

const AT_MOST_FIRST = 3

function stillOpen(record: InspectionRecord): ReportFinding[] {
  const reviewOf = new Map(record.reviews.map((review) => [review.findingId, review]))
  const lineOf = new Map(record.lines.map((line) => [line.key, line]))
  const itemOf = new Map(record.lines.map((line) => [line.item.id, line.item]))
  const describe = (finding: Finding, carried: boolean): ReportFinding => {
    const subjectId = finding.equipmentId ?? finding.spaceId
    return {
      finding,
      name: lineOf.get(`${finding.itemId}@${subjectId ?? 'home'}`)?.name ?? '',
      plain: itemOf.get(finding.itemId)?.plain ?? '',
      carried,
    }
  }
  const carried = record.carried.filter((finding) => {
    const review = reviewOf.get(finding.id)
    return !isClosed(review ? stateAfterReview(finding.state, review.outcome) : finding.state)
  })
  return [
    ...record.findings.filter(({ state }) => !isClosed(state)).map((finding) => describe(finding, false)),
    ...carried.map((finding) => describe(finding, true)),
  ]
}

/** Most pressing first: by severity, and within it what nobody has made safe yet. The rest keeps its order. */
function byGravity(a: ReportFinding, b: ReportFinding): number {
  const severity = gravity(a.finding.severity ?? 'investigate') - gravity(b.finding.severity ?? 'investigate')
  return severity || Number(isSettledUnsafe(a.finding)) - Number(isSettledUnsafe(b.finding))
}

function safetyOf(findings: readonly Finding[]): SafetyAnswer {
  const toDo = findings.filter((finding) => finding.state !== 'corrected')
  const has = (severity: Severity) => toDo.some((finding) => finding.severity === severity)
  const unsafe = toDo.filter((finding) => finding.severity === 'unsafe')
  // A refusal lets the technician leave; it makes nothing safe.
  if (unsafe.some((finding) => !finding.makeSafe?.trim())) return 'not-safe'
  if (unsafe.length > 0) return 'made-safe'
  if (has('repair')) return 'repairs-needed'
  return has('investigate') ? 'more-work-needed' : 'sound'
}

function whatFirst(sorted: readonly ReportFinding[]): ReportFinding[] {
  const unsafe = sorted.filter(({ finding }) => finding.severity === 'unsafe')
  if (unsafe.length > 0) return unsafe
  const pressing = sorted.filter(
    ({ finding }) => finding.severity === 'repair' || finding.severity === 'investigate',
  )
  return pressing.slice(0, AT_MOST_FIRST)
}

function bySeverity(sorted: readonly ReportFinding[]): ReportContents['findings'] {
  const groups = new Map<Severity, ReportFinding[]>()
  for (const each of sorted) {
    const severity = each.finding.severity ?? 'investigate'
    groups.set(severity, [...(groups.get(severity) ?? []), each])
  }
  return [...groups].map(([severity, findings]) => ({ severity, ...SEVERITY_WORDS[severity], findings }))
}

function foundGood(lines: readonly Line[], given: ReadonlyMap<string, Answer>): ReportContents['good'] {
  const areas = new Map<string, { areaId: string; title: string; lines: Line[] }>()
  for (const line of lines) {
    if (given.get(line.key)?.result !== 'ok') continue
    const area = areas.get(line.area.id) ?? { areaId: line.area.id, title: line.area.title, lines: [] }
    area.lines.push(line)
    areas.set(line.area.id, area)
  }
  return [...areas.values()]
}

function limitsOf(notInspected: number): string | null {
  if (notInspected === 0) return null
  const things = notInspected === 1 ? 'One thing' : `${notInspected} things`
  return `${things} could not be inspected; this answer does not speak for them.`
}

/**
 * The report's parts in the order in which a homeowner reads them. `dates` are the replacement and check dates of
 * devices, by equipment id, as the rules computed them.
 */
export function reportContents(
  record: InspectionRecord & { leftOut: readonly LeftOut[] },
  dates: ReadonlyMap<Equipment['id'], DeviceDates> = new Map(),
): ReportContents {
  const { home, lines, answers } = record
  const given = byLine([...impliedAnswers(lines, answers, home), ...answers])
  const sorted = stillOpen(record).toSorted(byGravity)
  const safety = safetyOf(sorted.map(({ finding }) => finding))
  const notInspected = lines.flatMap((line) => {
    const answer = given.get(line.key)
    return answer?.result === 'not-reached' ? [{ line, answer }] : []
  })
  const settled = record.carried.flatMap((finding) => {
    const review = record.reviews.find((each) => each.findingId === finding.id)
    return review && isClosed(stateAfterReview(finding.state, review.outcome)) ? [{ finding, review }] : []
  })
  return {
    answer: {
      safety,
      headline: ANSWERS[safety],
      limits: limitsOf(notInspected.length),
      first: whatFirst(sorted),
    },
    findings: bySeverity(sorted),
    devices: datedDevices(home, dates),
    good: foundGood(lines, given),
    settled,
    notInspected,
    leftOut: record.leftOut,
    cautions: reportCautions(sorted.map(({ finding }) => finding)),
  }
}
