import { type Severity } from '../verdict.ts'
import type { Cadence, FollowUpKindId } from './kind.ts'
import { FOLLOW_UP_KINDS } from './kinds.ts'

/** A kind, or a kind at one severity where that changes its notices. */
export type CadenceId = FollowUpKindId | `open-finding/${Severity}`

/** What the admin may change. Every figure is the company's own choice unless a source is named beside its default. */
export interface Policy {
  /** Notices by kind; what is not listed keeps the default of its kind. */
  cadences: Readonly<Partial<Record<CadenceId, Cadence>>>
  /** At most so many messages per household in so many days; visits and urgent kinds are outside it. */
  cap: { messages: number; days: number }
  /** Messages go out between these times of day at the home, `HH:MM`. */
  sendingHours: { from: string; to: string }
  /** Follow-ups of one home whose due dates lie no further apart go out in one message. */
  groupWithinDays: number
  reinspection: { ownerYears: number; rentedYears: number; olderHomeYears: number; olderHomeAge: number }
  surge: { checkMonths: number; afterEventDays: number; lifeYears: number }
  batteryMonths: number
  finding: {
    repairDays: number
    investigateDays: number
    improveMonths: number
    refusedRecheckDays: number
    /** The day of the finding is the first of the days, as in England's 28 days for rented homes (2020 Regulations). */
    countFoundDay: boolean
  }
  makeSafeDays: number
  estimateDays: number
  noAccessDays: number
  tipsMonths: number
}

export const DEFAULT_POLICY: Policy = {
  cadences: {},
  cap: { messages: 1, days: 7 },
  sendingHours: { from: '08:00', to: '20:00' },
  groupWithinDays: 14,
  // UK safety bodies: owner-occupied 10 years, rented 5; CPSC and ESFI single out homes over 40 years.
  reinspection: { ownerYears: 10, rentedYears: 5, olderHomeYears: 5, olderHomeAge: 40 },
  surge: { checkMonths: 12, afterEventDays: 7, lifeYears: 10 },
  // Replaceable batteries: yearly or when it chirps (CPSC and fire services).
  batteryMonths: 12,
  // 28 days: England's 2020 Regulations for rented homes, taken as the company's habit.
  finding: {
    repairDays: 28,
    investigateDays: 28,
    improveMonths: 12,
    refusedRecheckDays: 30,
    countFoundDay: false,
  },
  makeSafeDays: 1,
  estimateDays: 7,
  noAccessDays: 1,
  tipsMonths: 3,
}

/** A stored policy may hold only what the admin changed; every part may be missing. */
export type PolicyChanges = {
  [Part in keyof Policy]?: Policy[Part] extends number ? number : Partial<Policy[Part]>
}

export function policyWith(changes: PolicyChanges, base: Policy = DEFAULT_POLICY): Policy {
  return {
    ...base,
    ...changes,
    cadences: { ...base.cadences, ...changes.cadences },
    cap: { ...base.cap, ...changes.cap },
    sendingHours: { ...base.sendingHours, ...changes.sendingHours },
    reinspection: { ...base.reinspection, ...changes.reinspection },
    surge: { ...base.surge, ...changes.surge },
    finding: { ...base.finding, ...changes.finding },
  }
}

export function cadenceOf(policy: Policy, kind: FollowUpKindId, severity: Severity | null = null): Cadence {
  const changed =
    severity && kind === 'open-finding' ? policy.cadences[`open-finding/${severity}`] : undefined
  return changed ?? policy.cadences[kind] ?? mannerOf(kind, severity).cadence
}

/** Category, preference, urgency and default notices of a kind, where its severity may change them. */
export function mannerOf(kind: FollowUpKindId, severity: Severity | null = null) {
  const found = FOLLOW_UP_KINDS[kind]
  const { category, preference, urgency, cadence } = (severity && found.bySeverity?.[severity]) || found
  return { category, preference, urgency, cadence }
}
