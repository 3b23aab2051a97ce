import { isEquipmentSubject } from '../checklist/item.ts'
import type { EquipmentKind } from '../equipment.ts'
import { findEquipment, type Home } from '../home.ts'
import { byLine, coversOf } from './covers.ts'
import type { Line } from './lines.ts'
import type { Answer } from './records.ts'

/** Why a line is not answered by "the others here are sound". */
export const STAYS = {
  'none-recorded': 'none is on record: add it, or answer that there is none',
  cover: 'its cover is not recorded as taken off',
  reading: 'needs a reading',
  date: 'its date is not on record',
  unknown: 'nothing is on record about it',
  rule: 'a rule speaks against it',
  unjudged: 'the rules cannot judge it yet',
  earlier: 'an earlier finding has to be answered',
} as const
export type StayReason = keyof typeof STAYS

/** What the rules and the past say of a line. */
export interface Beside {
  isSpokenAgainst: (line: Line) => boolean
  /** Rules speak of it, and none of them has what it needs. */
  isUnjudged: (line: Line) => boolean
  hasEarlierFinding: (line: Line) => boolean
}

export interface Sweep {
  sound: Line[]
  staying: { line: Line; why: StayReason }[]
}

/**
 * Which of the unanswered lines may be called sound by a look alone, and why the others may not: a meter, a date on a
 * label, a cover, a rule or an earlier finding stands between.
 */
export function sweepOf(
  lines: readonly Line[],
  all: readonly Line[],
  answers: readonly Answer[],
  home: Home,
  beside: Beside,
): Sweep {
  const given = byLine(answers)
  const sweep: Sweep = { sound: [], staying: [] }
  for (const line of lines) {
    const why = whyItStays(line, all, given, home, beside)
    if (why) sweep.staying.push({ line, why })
    else sweep.sound.push(line)
  }
  return sweep
}

function whyItStays(
  line: Line,
  all: readonly Line[],
  given: ReadonlyMap<string, Answer>,
  home: Home,
  { isSpokenAgainst, isUnjudged, hasEarlierFinding }: Beside,
): StayReason | null {
  if (line.noneRecorded) return 'none-recorded'
  if (hasEarlierFinding(line)) return 'earlier'
  if (needsReading(line)) return 'reading'
  const covers = coversOf(line, all, home)
  const isOff = ({ key }: Line) => ['ok', 'finding'].includes(given.get(key)?.result ?? '')
  if (covers.length > 0 && !covers.some(isOff)) return 'cover'
  const onRecord = recordOf(line, home)
  if (onRecord) return onRecord
  if (isSpokenAgainst(line)) return 'rule'
  // A piece or a room can be seen to be sound; whether the whole home is covered, a look does not say.
  return line.subjectKind === 'home' && isUnjudged(line) ? 'unjudged' : null
}

/**
 * A measured value, a count over the whole home, or something that has to be confirmed. Light may be judged by eye, and
 * how many of a room were tried is no measurement.
 */
function needsReading({ item, subjectKind }: Line): boolean {
  if (item.required?.length) return true
  if ('judged' in item.readings) return false
  return Object.entries(item.readings).some(
    ([name, field]) =>
      name === 'pattern' || (field.type === 'number' && (field.unit !== 'count' || subjectKind === 'home')),
  )
}

/** Kinds whose life is counted from a date on them. */
const DATED: readonly EquipmentKind[] = ['alarm', 'surge-protector']

/** What is asked of the piece of equipment itself. */
function recordOf(line: Line, home: Home): StayReason | null {
  const { subject } = line.item
  if (!isEquipmentSubject(subject)) return null
  const captures: readonly string[] = subject.captures ?? []
  const piece = findEquipment(home, line.subjectId)
  if (!piece || captures.length === 0) return null
  const isAskedForDate = DATED.includes(piece.kind) && captures.includes('manufacturedOn')
  if (isAskedForDate && !piece.manufacturedOn && !piece.installedOn) return 'date'
  const details: Readonly<Record<string, unknown>> = { ...piece.details, ...piece }
  return captures.some((name) => details[name] != null) ? null : 'unknown'
}
