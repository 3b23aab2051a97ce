import { addDays, addMonths, type Day } from '../dates.ts'
import type { Severity } from '../verdict.ts'
import type { FollowUpKindId } from './kind.ts'

// How long the people who live there may ask to be left in peace. Every figure here is common practice, no source.

/** The lengths that are offered. */
export const PUT_OFFS = {
  'three-days': { days: 3 },
  'one-week': { days: 7 },
  'one-month': { months: 1 },
  'three-months': { months: 3 },
  'six-months': { months: 6 },
} as const satisfies Record<string, { days: number } | { months: number }>
export type PutOff = keyof typeof PUT_OFFS

export interface PuttingOff {
  choices: readonly { length: PutOff; until: Day }[]
  /** Why no longer rest is offered: somebody can get hurt, or something no longer protects. Null = nothing shortens it. */
  limitedBy: 'danger' | 'protection' | null
}

/** Devices that protect people, and do so badly or not at all from their due date on. */
const PROTECTS: readonly FollowUpKindId[] = ['alarm-end-of-life', 'alarm-undated', 'surge-failed']

const DANGER_DAYS = 7
/** So long after the day on which it was due, or from now when that has passed. */
const PROTECTION_MONTHS = 1

/** What may be chosen for a follow-up: a hazard rests for days, what protects people for about a month past its date. */
export function puttingOff(
  followUp: { kind: FollowUpKindId; severity: Severity | null; dueOn: Day },
  today: Day,
): PuttingOff {
  const { kind, severity, dueOn } = followUp
  const choices = (Object.keys(PUT_OFFS) as PutOff[]).map((length) => ({
    length,
    until: putOffUntil(length, today),
  }))
  if (severity === 'unsafe') {
    const latest = addDays(today, DANGER_DAYS)
    return { choices: choices.filter(({ until }) => until <= latest), limitedBy: 'danger' }
  }
  const unhurried = choices.filter(({ length }) => length !== 'three-days')
  if (!PROTECTS.includes(kind) && severity !== 'repair') return { choices: unhurried, limitedBy: null }
  const latest = addMonths(dueOn > today ? dueOn : today, PROTECTION_MONTHS)
  return { choices: unhurried.filter(({ until }) => until <= latest), limitedBy: 'protection' }
}

export function putOffUntil(length: PutOff, today: Day): Day {
  const rest: { days?: number; months?: number } = PUT_OFFS[length]
  return rest.days === undefined ? addMonths(today, rest.months ?? 0) : addDays(today, rest.days)
}
