import type { NotReachedReason, Result } from '../checklist/item.ts'
import type { Day } from '../dates.ts'
import type { Severity } from '../verdict.ts'
import type { FindingState, ReviewOutcome } from './finding-states.ts'

export type SubjectKind = 'home' | 'space' | 'equipment'

/** What was written on one line of the field sheet. */
export interface Answer {
  itemId: string
  subjectKind: SubjectKind
  /** Null for a line about the home. */
  subjectId: string | null
  result: Result
  notReachedReason?: NotReachedReason | null
  note?: string | null
  readings: Readonly<Record<string, unknown>>
}

/** The owner refused to have an unsafe finding made safe: a signed statement. */
export interface Refusal {
  name: string
  statement: string
}

export interface Finding {
  id: string
  itemId: string
  /** At most one of the two is set; neither means the home as a whole. */
  spaceId: string | null
  equipmentId: string | null
  /** Null only while it is being written: an inspection with such a finding is not complete. */
  severity: Severity | null
  /** What a rule proposed; null when no rule spoke. */
  proposedSeverity: Severity | null
  loweredReason?: string | null
  text: string
  correction?: string | null
  /** What was done on site so that nobody is hurt meanwhile. */
  makeSafe?: string | null
  refusal?: Refusal | null
  state: FindingState
  /** For `watch`: when to look again. */
  watchUntil?: Day | null
}

/** What became of an earlier finding, answered at this inspection. */
export interface Review {
  findingId: string
  outcome: ReviewOutcome
  note?: string | null
}

/** Whether a text says anything. */
export function isBlank(text: string | null | undefined): boolean {
  return !text?.trim()
}
