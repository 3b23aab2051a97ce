import { findEquipment, type Home } from '../home.ts'
import { type Line, lineKey } from './lines.ts'
import type { Answer } from './records.ts'

/** Answers by line, the last one given for a line winning. */
export function byLine(answers: readonly Answer[]): ReadonlyMap<string, Answer> {
  return new Map(answers.map((answer) => [lineKey(answer.itemId, answer.subjectId), answer]))
}

/**
 * The lines that record the taking off of the covers which a line lies behind: its own subject's, else the panel's it
 * belongs to, else, where nobody wrote which panel, any of them. Empty when it lies behind none.
 */
export function coversOf(line: Line, lines: readonly Line[], home: Home): Line[] {
  if (!line.item.behind) return []
  const openings = lines.filter((each) => each.item.id === line.item.behind)
  const own = openings.filter((each) => each.subjectId === line.subjectId)
  if (own.length > 0) return own
  const parent = findEquipment(home, line.subjectId)?.parentId
  const parents = openings.filter((each) => parent && each.subjectId === parent)
  return parents.length > 0 ? parents : openings
}

/**
 * What follows from covers that stayed on, or that are not there: every unanswered line behind them has the same
 * result, for the same reason. Answers that someone gave are never touched.
 */
export function impliedAnswers(lines: readonly Line[], answers: readonly Answer[], home: Home): Answer[] {
  const given = byLine(answers)
  return lines.flatMap((line) => {
    if (given.has(line.key)) return []
    const openings = coversOf(line, lines, home).map((each) => given.get(each.key))
    const first = openings[0]
    if (!first || (first.result !== 'not-reached' && first.result !== 'absent')) return []
    if (!openings.every((each) => each?.result === first.result)) return []
    const { result, notReachedReason = null, note = null } = first
    const { subjectKind, subjectId } = line
    return [{ itemId: line.item.id, subjectKind, subjectId, result, notReachedReason, note, readings: {} }]
  })
}
