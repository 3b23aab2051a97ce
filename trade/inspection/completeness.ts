import type { Home } from '../home.ts'
import { byLine, coversOf, impliedAnswers } from './covers.ts'
import { isClosed } from './finding-states.ts'
import type { Line } from './lines.ts'
import { type Answer, type Finding, isBlank, type Review, type SubjectKind } from './records.ts'
import { isSettledUnsafe, needsLoweredReason } from './severity.ts'

/** Why an inspection cannot be finished yet. */
export const OPEN_KINDS = {
  unanswered: 'Not answered yet.',
  'no-reason': 'Say why it could not be reached.',
  'no-note': 'The reason is "other": say what it was.',
  'no-finding': 'Marked as a finding, but none is written down.',
  'reading-missing': 'A reading is missing without which this cannot stand.',
  'voltage-test':
    'The cover was off: record the voltage test, with the tester proven on a known source before and after.',
  'cover-stayed-on': 'Answered as seen, though the cover it lies behind is recorded as not taken off.',
  'no-severity': 'The finding has no severity.',
  'no-text': 'The finding has no note.',
  'lowered-without-reason': 'The proposed severity was lowered: say why.',
  'unsafe-unsettled':
    'Unsafe: record what was done to make it safe, or the signed refusal of the owner, before you leave.',
  'carried-unanswered': 'A finding from an earlier inspection: say what became of it.',
} as const
export type OpenKind = keyof typeof OPEN_KINDS

/** One thing that still has to be done, plain enough to travel as it is. */
export interface Open {
  kind: OpenKind
  itemId: string
  subjectKind: SubjectKind
  subjectId: string | null
  /** Set where a finding is meant rather than a line. */
  findingId: string | null
  text: string
}

/** All that an inspection holds, with what it took over from earlier ones. */
export interface InspectionRecord {
  home: Home
  lines: readonly Line[]
  answers: readonly Answer[]
  /** Written at this inspection. */
  findings: readonly Finding[]
  /** Written at earlier inspections and not closed when this one began. */
  carried: readonly Finding[]
  reviews: readonly Review[]
}

function atLine(kind: OpenKind, line: Line, more = ''): Open {
  const { item, subjectKind, subjectId, name } = line
  const where = name ? `${item.title}, ${name}` : item.title
  return {
    kind,
    itemId: item.id,
    subjectKind,
    subjectId,
    findingId: null,
    text: `${where}: ${OPEN_KINDS[kind]}${more}`,
  }
}

function atFinding(kind: OpenKind, finding: Finding): Open {
  const { id, itemId, spaceId, equipmentId, text } = finding
  return {
    kind,
    itemId,
    subjectKind: equipmentId ? 'equipment' : spaceId ? 'space' : 'home',
    subjectId: equipmentId ?? spaceId,
    findingId: id,
    text: isBlank(text) ? OPEN_KINDS[kind] : `“${text.trim()}”: ${OPEN_KINDS[kind]}`,
  }
}

/** Whether a reading was given; a yes/no counts only when it says yes. */
function isGiven(value: unknown): boolean {
  return value !== undefined && value !== null && value !== '' && value !== false
}

function missingReadings(line: Line, answer: Answer): Open[] {
  const missing = (line.item.required ?? []).filter((name) => !isGiven(answer.readings[name]))
  const labels = missing.map((name) => line.item.readings[name]?.label ?? name)
  if (missing.includes('voltageTested')) return [atLine('voltage-test', line)]
  return missing.length > 0 ? [atLine('reading-missing', line, ` (${labels.join(', ')})`)] : []
}

/** Was something looked at, so that readings had to be taken? */
function wasSeen(answer: Answer | undefined): answer is Answer {
  return answer?.result === 'ok' || answer?.result === 'finding'
}

function openAtAnswer(line: Line, answer: Answer, findingKeys: ReadonlySet<string>): Open[] {
  if (answer.result === 'not-reached') {
    if (!answer.notReachedReason) return [atLine('no-reason', line)]
    return answer.notReachedReason === 'other' && isBlank(answer.note) ? [atLine('no-note', line)] : []
  }
  if (!wasSeen(answer)) return []
  const open = missingReadings(line, answer)
  if (answer.result === 'finding' && !findingKeys.has(line.key)) open.push(atLine('no-finding', line))
  return open
}

/** A line answered as seen contradicts covers that are all recorded as not taken off. */
function contradictsCovers(
  line: Line,
  record: InspectionRecord,
  given: ReadonlyMap<string, Answer>,
): boolean {
  const covers = coversOf(line, record.lines, record.home).map((cover) => given.get(cover.key)?.result)
  return covers.length > 0 && covers.every((result) => result === 'not-reached' || result === 'absent')
}

function openAtFinding(finding: Finding): Open[] {
  const open: Open[] = []
  if (!finding.severity) open.push(atFinding('no-severity', finding))
  if (isBlank(finding.text)) open.push(atFinding('no-text', finding))
  if (needsLoweredReason(finding)) open.push(atFinding('lowered-without-reason', finding))
  if (isUnsettled(finding)) open.push(atFinding('unsafe-unsettled', finding))
  return open
}

function isUnsettled(finding: Finding): boolean {
  const putRight = isClosed(finding.state) || finding.state === 'corrected'
  return finding.severity === 'unsafe' && !putRight && !isSettledUnsafe(finding)
}

function openAtCarried(finding: Finding, review: Review | undefined): Open[] {
  if (isClosed(finding.state)) return []
  if (!review) return [atFinding('carried-unanswered', finding)]
  const stillThere = review.outcome === 'still-there'
  const unsafe = finding.severity === 'unsafe' && !isSettledUnsafe(finding)
  return stillThere && unsafe ? [atFinding('unsafe-unsettled', finding)] : []
}

function findingLineKey(finding: Finding): string {
  return `${finding.itemId}@${finding.equipmentId ?? finding.spaceId ?? 'home'}`
}

/** Everything that keeps an inspection from being complete, lines first, in the order of the checklist. */
export function whatIsOpen(record: InspectionRecord): Open[] {
  const { home, lines, answers, findings, carried, reviews } = record
  const given = byLine([...impliedAnswers(lines, answers, home), ...answers])
  const findingKeys = new Set([...findings, ...carried].map(findingLineKey))
  const reviewOf = new Map(reviews.map((review) => [review.findingId, review]))

  const atLines = lines.flatMap((line) => {
    const answer = given.get(line.key)
    if (!answer) return [atLine('unanswered', line)]
    const open = openAtAnswer(line, answer, findingKeys)
    if (wasSeen(answer) && contradictsCovers(line, record, given)) open.push(atLine('cover-stayed-on', line))
    return open
  })
  return [
    ...atLines,
    ...findings.flatMap(openAtFinding),
    ...carried.flatMap((finding) => openAtCarried(finding, reviewOf.get(finding.id))),
  ]
}

export function isComplete(record: InspectionRecord): boolean {
  return whatIsOpen(record).length === 0
}
