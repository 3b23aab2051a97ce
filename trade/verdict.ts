import type { Unit } from './units.ts'

/** How much a finding matters to the people in the home, gravest first. */
export const SEVERITIES = ['unsafe', 'repair', 'investigate', 'improve', 'watch'] as const
export type Severity = (typeof SEVERITIES)[number]

/** Where a requirement stands in print. `edition` is the year on the cover. */
export interface Reference {
  /** `NFPA 70`, `NFPA 72`, `IRC`, `UL 943`, `common practice` … */
  code: string
  edition?: string
  /** Article, section or table as numbered in that edition: `250.66`, `Table 310.16`. */
  article?: string
  /** The row or condition that decided, in our own words. */
  row?: string
}

/** A number that a rule used or computed, so that a technician can check it. */
export interface Figure {
  label: string
  value: number
  unit: Unit
}

/** Whether a rule was in force: `unknown` where the year or the adopted edition is not known. */
export type Required = 'yes' | 'no' | 'unknown'

interface Judged {
  /** Id of the rule: `overcurrent.breaker-against-conductor`. */
  rule: string
  references: Reference[]
  /** What the rule was given, by name, so that the technician can argue with it. */
  inputs: Readonly<Record<string, string | number | boolean | null>>
  figures: Figure[]
  requiredWhenBuilt: Required
  requiredToday: Required
  /** One sentence for the technician. */
  technician: string
  /** One calm sentence for the people who live there. */
  homeowner: string
}
export interface SoundVerdict extends Judged {
  outcome: 'sound'
}
export interface FindingVerdict extends Judged {
  outcome: 'finding'
  severity: Severity
}
export interface UndeterminedVerdict extends Judged {
  outcome: 'undetermined'
  /** What would have to be known, in the words of the form. */
  missing: string[]
}
export interface NotApplicableVerdict extends Judged {
  outcome: 'not-applicable'
  why: string
}
export type Verdict = SoundVerdict | FindingVerdict | UndeterminedVerdict | NotApplicableVerdict
export type Outcome = Verdict['outcome']

/** The caution that every screen and report showing a verdict carries once. */
export const VERDICT_CAUTION =
  'A calculator for licensed people. The adopted local code, the authority having jurisdiction, the utility and the ' +
  'judgement of the licensed electrician on site come first.'
