import type { Day } from '../dates.ts'
import type { Severity } from '../verdict.ts'
import type { Policy } from './policy.ts'

export const FOLLOW_UP_KIND_IDS = [
  'alarm-end-of-life',
  'alarm-battery',
  'alarm-undated',
  'surge-check',
  'surge-after-event',
  'surge-failed',
  'self-test-tips',
  're-inspection',
  'open-finding',
  'estimate-unanswered',
  'make-safe-check',
  'visit-confirmation',
  'visit-reminder',
  'no-access-rebooking',
] as const
export type FollowUpKindId = (typeof FOLLOW_UP_KIND_IDS)[number]

/** What a follow-up is about. Its id is the record's; the home itself has none in here. */
export type SubjectKind = 'home' | 'equipment' | 'finding' | 'visit' | 'estimate'

/** How a notice reaches people: a letter and a call are tasks for the office. */
export type Channel = 'mail' | 'call' | 'letter'

/** One notice: so many calendar days before (negative) or after the due date. */
export interface Step {
  days: number
  by: readonly Channel[]
}
/** Notices for one due date, in order, and what repeats after the last of them, counted from the due date. */
export interface Cadence {
  steps: readonly Step[]
  then?: { every: number; unit: 'days' | 'months'; by: readonly Channel[] }
}

/** Why a follow-up ends, or rests for a while. */
export const STOP_CONDITIONS = {
  replaced: 'The device was replaced; its new date takes over',
  retired: 'The device is out of use',
  'battery-changed': 'The battery was changed',
  'date-read': 'A date could be read after all',
  checked: 'Somebody checked it',
  'corrected-and-checked': 'Corrected, and the correction was checked',
  'no-longer-applies': 'No longer applies',
  accepted: 'The offer was accepted',
  declined: 'Declined in writing',
  refused: 'Refused in writing: looked at again after the recheck time',
  answered: 'The offer was answered, asked about or withdrawn, or has run out',
  acknowledged: 'The owner has acknowledged it and the office has noted so',
  booked: 'A visit is booked',
  rebooked: 'A new visit is booked',
  held: 'The visit took place, was moved or called off',
  inspected: 'The home was inspected',
  sold: 'The home was sold',
  'moved-away': 'The person no longer lives there or owns it',
  'opted-out': 'The person does not want this kind of message',
  'put-off': 'The company’s policy has moved its date to a later day; it comes back then',
} as const
export type StopCondition = keyof typeof STOP_CONDITIONS
export interface Stop {
  when: StopCondition
  /** `end` closes the follow-up; `hold` keeps back its notices while it lasts. */
  effect: 'end' | 'hold'
}

export interface Due {
  dueOn: Day
  assumed: boolean
}
export interface Words {
  en: string
  es: string
}
/** What the sentence to the homeowner may tell: nothing that is not on the follow-up itself. */
export interface ReasonFacts {
  /** Name of the subject as written down: `Hall alarm`, `Estimate 41`. */
  label: string
  dueOn: Day
  assumed: boolean
  severity: Severity | null
}

/** How insistent a kind is and what may hold it back. */
export interface Manner {
  /** `commercial` = it may lead to paid work, so the weekly cap and an opt-out hold it back. */
  category: 'relationship' | 'commercial'
  /** The choice on the preferences page that switches it off. `safety` and `booking` stay on. */
  preference: 'safety' | 'booking' | 'reminder' | 'tips'
  /** `at-once` overrides cap and quiet hours; `soon` goes before `routine` when only one message may go out. */
  urgency: 'at-once' | 'soon' | 'routine'
  /** Default notices; the policy may change them. */
  cadence: Cadence
}

/** One kind of follow-up: everything that the engine and the office need to know of it. */
export interface FollowUpKind<Facts = unknown> extends Manner {
  id: FollowUpKindId
  subjectKind: SubjectKind
  /** Name of the kind in the worklist. */
  office: string
  /** Who is concerned, in words for Settings. */
  concerns: string
  /** Whom the message goes to: the household's contact, or whoever asked for the visit or offer and pays for it. */
  tells: 'contact' | 'payer'
  /** Where the severity of the finding changes the manner. */
  bySeverity?: Partial<Record<Severity, Manner>>
  stops: readonly Stop[]
  /**
   * A due date of "now" is the day on which the cause was first noticed: a later run must keep the stored day instead of
   * moving it.
   */
  keepsFirstDueOn: boolean
  /** Null = these facts call for no follow-up of this kind. */
  due(facts: Facts, policy: Policy): Due | null
  reason(facts: ReasonFacts): Words
}

export function ends(...conditions: StopCondition[]): Stop[] {
  return conditions.map((when) => ({ when, effect: 'end' }))
}
export function holds(...conditions: StopCondition[]): Stop[] {
  return conditions.map((when) => ({ when, effect: 'hold' }))
}
