import { isEquipmentSubject } from '../../../trade/checklist/item.ts'
import type { Line } from '../../../trade/inspection/lines.ts'
import type { UndeterminedVerdict, Verdict } from '../../../trade/verdict.ts'
import { type Inspection, inOrderOfWeight } from './inspection-of.ts'

const isFilled = (value: unknown) => value !== undefined && value !== null && value !== ''

/** Whether anything was typed or is on record at a line: before that, a rule that misses something has nothing to say. */
export function hasTyped(inspection: Inspection, line: Line): boolean {
  const { item, subjectId } = line
  const captures: readonly string[] = isEquipmentSubject(item.subject) ? (item.subject.captures ?? []) : []
  if (captures.length === 0 && Object.keys(item.readings).length === 0) return true
  const readings = inspection.answerAt(line)?.readings ?? {}
  if (Object.keys(item.readings).some((name) => isFilled(readings[name]))) return true
  const piece = inspection.sheet.equipment.find((each) => each.id === subjectId)
  if (!piece) return false
  const known: Readonly<Record<string, unknown>> = { ...piece.details, ...piece }
  return captures.some((name) => isFilled(known[name]))
}

/** What is said at a line, the gravest first; and what could not be judged, once there is something to judge. */
export function spokenAt(
  inspection: Inspection,
  line: Line,
): { spoken: Verdict[]; unknown: UndeterminedVerdict[] } {
  const verdicts = inOrderOfWeight(inspection.verdictsAt(line))
  const spoken = verdicts.filter((each) => each.outcome === 'finding' || each.outcome === 'sound')
  const unknown = verdicts.filter((each) => each.outcome === 'undetermined')
  return { spoken, unknown: hasTyped(inspection, line) ? unknown : [] }
}
