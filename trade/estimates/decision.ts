import type { FindingState } from '../inspection/finding-states.ts'
import type { Severity } from '../verdict.ts'
import { isTaken, type OptionalLine } from './options.ts'
import { OFFERABLE_FINDINGS } from './states.ts'

export interface OfferedFinding {
  id: string
  text: string
  severity: Severity
  state: FindingState
}
export interface OfferedLine extends OptionalLine {
  finding: OfferedFinding | null
}

/** What is taken of an estimate: with those options, or nothing. */
export interface Choice {
  state: 'accepted' | 'declined'
  chosen: readonly string[]
}

/** Lines that the customer takes by that decision, and those that stay undone. */
export function split<Line extends OptionalLine>(lines: readonly Line[], { state, chosen }: Choice) {
  const taken = state === 'accepted' ? lines.filter((line) => isTaken(line, chosen)) : []
  return { taken, left: lines.filter((line) => !taken.includes(line)) }
}

/** Findings among lines that the customer decides about, each once: those that are settled elsewhere are not. */
export function findingsAmong<Finding extends OfferedFinding>(
  lines: readonly { finding: Finding | null }[],
): Finding[] {
  const open = lines.flatMap(({ finding }) =>
    finding && (OFFERABLE_FINDINGS as readonly string[]).includes(finding.state) ? [finding] : [],
  )
  return [...new Map(open.map((finding) => [finding.id, finding])).values()]
}

/** What would stay unsafe by that decision: nothing that another line puts right. */
export function staysUnsafe<Line extends OfferedLine>(
  lines: readonly Line[],
  choice: Choice,
): OfferedFinding[] {
  const { taken, left } = split(lines, choice)
  const corrected = findingsAmong(taken).map(({ id }) => id)
  return findingsAmong(left).filter(({ id, severity }) => severity === 'unsafe' && !corrected.includes(id))
}
