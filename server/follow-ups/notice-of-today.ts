import { addDays, type Day, daysBetween } from '../../trade/dates.ts'
import type { Cadence } from '../../trade/follow-ups/kind.ts'
import { cadenceOf, mannerOf, type Policy } from '../../trade/follow-ups/policy.ts'
import { dayOfStep, nextNotice, type Notice as Step, noticeDue } from '../../trade/follow-ups/steps.ts'
import type { Household, OpenFollowUp } from './household.ts'

export interface Given {
  policy: Policy
  now: Date
  /** The day of `now` in a zone. */
  today: (zone: string) => Day
  /** Chosen by the office to be written about now, whatever the calendar says. */
  byHand?: ReadonlySet<string>
}
/** A follow-up whose notice goes by mail today. */
export interface Speaking {
  followUp: OpenFollowUp
  step: string
  after: Day
}

/** The notice whose day has come; null when there is none after all; `rests` when nobody is to be told now. */
export function stepToday(followUp: OpenFollowUp, given: Given): Step | null | 'rests' {
  const { dueOn, kind, severity, lastStep } = followUp
  const today = given.today(followUp.zone)
  const cadence = cadenceOf(given.policy, kind, severity)
  if (given.byHand) {
    if (!given.byHand.has(followUp.id)) return 'rests'
    const days = daysBetween(dueOn, today)
    return { step: days > 0 ? `+${days}` : String(days), on: today, by: ['mail'] }
  }
  const isUrgent = mannerOf(kind, severity).urgency === 'at-once'
  const isResting = !isUrgent && (followUp.state === 'booked' || followUp.state === 'asked')
  const isSnoozed = followUp.snoozedUntil !== null && followUp.snoozedUntil > today
  if (isResting || isSnoozed || followUp.nextNoticeOn === null || followUp.nextNoticeOn > today)
    return 'rests'
  return noticeDue(dueOn, cadence, today, lastStep) ?? afterRest(followUp, cadence, today)
}

/** Asked to be reminded on a day, they are, also where no step of the cadence falls into the rest. */
function afterRest(
  { dueOn, snoozedUntil, lastStep }: OpenFollowUp,
  cadence: Cadence,
  today: Day,
): Step | null {
  const given = lastStep === null ? null : dayOfStep(dueOn, lastStep)
  const isOver = snoozedUntil !== null && (given === null || given < snoozedUntil)
  if (!isOver || !cadence.steps.some(({ by }) => by.includes('mail'))) return null
  const days = daysBetween(dueOn, today)
  return { step: days > 0 ? `+${days}` : String(days), on: today, by: ['mail'] }
}

/** What falls due at the same home in the same days comes along, instead of in a message of its own a week later. */
export function joining(household: Household, given: Given, speaking: readonly Speaking[]): Speaking[] {
  const isHere = (followUp: OpenFollowUp) => speaking.some((each) => each.followUp.id === followUp.id)
  return household.followUps.flatMap((followUp) => {
    const today = given.today(followUp.zone)
    const isFree = followUp.state === 'planned' || followUp.state === 'told'
    const isSnoozed = followUp.snoozedUntil !== null && followUp.snoozedUntil > today
    const { preference } = mannerOf(followUp.kind, followUp.severity)
    if (!isFree || isSnoozed || isHere(followUp) || (preference !== 'reminder' && preference !== 'tips'))
      return []
    const step = stepOfTomorrow(followUp, given) ?? stepOfTheseDays(followUp, given, speaking)
    return step?.by.includes('mail') ? [{ followUp, step: step.step, after: step.on }] : []
  })
}

/** At another home of theirs, where the day begins later: else the cap would let the eastern homes speak and never it. */
function stepOfTomorrow({ dueOn, kind, severity, lastStep, nextNoticeOn, zone }: OpenFollowUp, given: Given) {
  const tomorrow = addDays(given.today(zone), 1)
  if (nextNoticeOn === null || nextNoticeOn > tomorrow) return null
  return noticeDue(dueOn, cadenceOf(given.policy, kind, severity), tomorrow, lastStep)
}

function stepOfTheseDays(followUp: OpenFollowUp, given: Given, speaking: readonly Speaking[]): Step | null {
  const { dueOn, kind, severity, lastStep, propertyId } = followUp
  const days = given.policy.groupWithinDays
  const today = given.today(followUp.zone)
  const isNear = speaking.some(
    (each) =>
      each.followUp.propertyId === propertyId && Math.abs(daysBetween(each.followUp.dueOn, dueOn)) <= days,
  )
  if (!isNear) return null
  const next = nextNotice(dueOn, cadenceOf(given.policy, kind, severity), today, lastStep)
  return next && daysBetween(today, next.on) <= days ? next : null
}
