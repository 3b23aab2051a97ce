import { type Day, yearOf, yearsBetween } from '../dates.ts'
import type { Reference } from '../verdict.ts'

/** Signs that a household can see or hear: ESFI self-check, CPSC. */
export const WARNING_SIGNS = {
  flicker: 'Lights flicker or dim',
  trips: 'Breakers or fuses trip often',
  'hot-plates': 'Cover plates are warm or discoloured',
  buzzing: 'Outlets or switches buzz or crackle',
  'extension-cords': 'Extension cords are used for good',
  event: 'Flood, fire, lightning or a shock',
} as const
export type WarningSign = keyof typeof WARNING_SIGNS

export interface AdviceFacts {
  lastInspectedOn: Day | null
  yearBuilt: number | null
  /** Year of a major renovation or of a major appliance added. */
  majorWorkYear?: number | null
  soldOn?: Day | null
  signs?: readonly WarningSign[]
}
export interface InspectionAdvice {
  advice: 'overdue' | 'advised' | 'none' | 'unknown'
  why: string
  reference: Reference
}

/** Whole years since the last inspection from which CPSC calls one overdue, and from which it advises one. */
const OVERDUE_YEARS = 40
const ADVISED_YEARS = 10
/** CPSC and ESFI: a home older than this, or of this age with major work since. */
const OLD_HOME_YEARS = 40
const WORK_YEARS = 10

const SINCE_LAST: Reference = { code: 'CPSC', article: 'home wiring inspection, by years since the last one' }
const BY_HOME: Reference = { code: 'CPSC and ESFI', article: 'when to have a home inspected' }

/**
 * What the Consumer Product Safety Commission advises a household, apart from the company's own interval. No official
 * yearly interval exists for homes lived in by their owner.
 */
export function inspectionAdvice(facts: AdviceFacts, today: Day): InspectionAdvice {
  const { lastInspectedOn, yearBuilt, signs = [] } = facts
  const since = lastInspectedOn && yearsBetween(lastInspectedOn, today)
  if (since !== null && since >= OVERDUE_YEARS) {
    return { advice: 'overdue', why: `Last inspected ${since} years ago.`, reference: SINCE_LAST }
  }
  const isSoldSince = facts.soldOn && (!lastInspectedOn || facts.soldOn > lastInspectedOn)
  if (isSoldSince) return advised('The home has a new owner since.')
  if (signs.length) return advised(`${signs.map((sign) => WARNING_SIGNS[sign]).join('; ')}.`)
  if (since !== null) {
    return since >= ADVISED_YEARS
      ? { advice: 'advised', why: `Last inspected ${since} years ago.`, reference: SINCE_LAST }
      : { advice: 'none', why: `Inspected ${since} years ago, no signs of trouble.`, reference: SINCE_LAST }
  }
  return byAge(yearBuilt, facts.majorWorkYear ?? null, today)
}

function byAge(yearBuilt: number | null, majorWorkYear: number | null, today: Day): InspectionAdvice {
  if (yearBuilt === null) {
    return { advice: 'unknown', why: 'Neither year built nor last inspection is known.', reference: BY_HOME }
  }
  const age = yearOf(today) - yearBuilt
  if (age > OLD_HOME_YEARS) return advised(`The home is ${age} years old and no inspection is known.`)
  const isReworked = majorWorkYear !== null && majorWorkYear > yearBuilt
  if (age >= WORK_YEARS && isReworked) return advised(`The home is ${age} years old, with major work since.`)
  return { advice: 'none', why: `The home is ${age} years old.`, reference: BY_HOME }
}

function advised(why: string): InspectionAdvice {
  return { advice: 'advised', why, reference: BY_HOME }
}
