import { addDays, type Day, daysBetween } from '../../trade/dates.ts'
import { type Cadence, STOP_CONDITIONS } from '../../trade/follow-ups/kind.ts'
import { FOLLOW_UP_KINDS } from '../../trade/follow-ups/kinds.ts'
import { cadenceOf, mannerOf, type Policy } from '../../trade/follow-ups/policy.ts'
import {
  dayOfStep,
  nextNotice,
  type Notice as Step,
  noticeDue,
  noticeKey,
} from '../../trade/follow-ups/steps.ts'
import { isWanted, type MessageKind } from '../messages/categories.ts'
import { refusalOfAddress } from '../messages/refusal.ts'
import { topicOf } from '../../trade/follow-ups/topics.ts'
import { dayInZone } from '../time.ts'
import type { Change, Decision, Household, NewNotice, OpenFollowUp } from './household.ts'
import { nextAllowed, nextSendingTimeOfAll } from './sending-time.ts'

interface Given {
  policy: Policy
  now: Date
  /** The day of `now` in a zone. */
  today: (zone: string) => Day
  /** Chosen by the office to be written about now, whatever the calendar says. */
  byHand?: ReadonlySet<string>
}
/** A follow-up whose notice goes by mail today. */
interface Speaking {
  followUp: OpenFollowUp
  step: string
  after: Day
}

/** What to write to one household today, and where each of its follow-ups stands then. Pure: any day can be tried. */
export function decide(household: Household, given: Given): Decision {
  const decision: Decision = { messages: [], changes: [] }
  const speaking: Speaking[] = []
  for (const followUp of household.followUps) {
    const step = stepToday(followUp, given)
    if (step === 'rests') continue
    if (step === null || !step.by.includes('mail')) {
      // Nothing to write: a call or a letter, which is the office's, or the day had come too early.
      decision.changes.push(moved(followUp, given, step?.step ?? followUp.lastStep, followUp.state))
    } else if (followUp.toldOfNoAccess && step.step === '0') {
      decision.changes.push(moved(followUp, given, step.step, 'told'))
    } else speaking.push({ followUp, step: step.step, after: step.on })
  }
  const of = (...preferences: string[]) =>
    speaking.filter(({ followUp }) =>
      preferences.includes(mannerOf(followUp.kind, followUp.severity).preference),
    )

  const dangers = of('safety')
  if (dangers.length > 0) tell(decision, household, given, 'unsafe-finding', dangers, given.now)
  for (const each of of('booking')) {
    const kind = each.followUp.kind === 'visit-reminder' ? 'visit-reminder' : 'visit-no-access'
    tell(decision, household, given, kind, [each], inHours(given, [each], given.now))
  }
  offer(decision, household, given, of('reminder', 'tips'))
  return decision
}

/** The notice whose day has come; null when there is none after all; `rests` when nobody is to be told now. */
function stepToday(followUp: OpenFollowUp, given: Given): Step | null | 'rests' {
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

/** Mail that offers work: only to those who want it, at most so often, and one message for all of it. */
function offer(decision: Decision, household: Household, given: Given, asked: readonly Speaking[]): void {
  const { receiver } = household
  const isWelcome = ({ followUp }: Speaking) => {
    const { preference } = mannerOf(followUp.kind, followUp.severity)
    const topic = topicOf(followUp.kind)
    const isOfInterest = topic === null || receiver.wants[topic] !== false
    return (
      isOfInterest && isWanted(preference as 'reminder', receiver.wants[preference as 'reminder'] ?? null)
    )
  }
  for (const { followUp } of asked.filter((each) => !isWelcome(each))) {
    decision.changes.push({
      ...ended(followUp),
      state: 'dismissed',
      closedReason: STOP_CONDITIONS['opted-out'],
    })
  }
  const speaking = asked.filter(isWelcome)
  const first = speaking[0]
  if (!first) return
  const company = given.byHand ? [] : joining(household, given, speaking).filter(isWelcome)
  const all = [...speaking, ...company]
  const { zone } = first.followUp
  const free = given.byHand ? null : nextAllowed(household.commercialAt, given.policy.cap, zone)
  const sendAfter = inHours(given, all, free && free > given.now ? free : given.now)
  if (dayInZone(sendAfter, zone) > given.today(zone) && free && free > given.now) {
    for (const { followUp } of speaking) {
      // At another home of theirs, in another zone, that day may have begun already.
      const tomorrow = addDays(given.today(followUp.zone), 1)
      const freeOn = dayInZone(free, followUp.zone)
      const nextNoticeOn = freeOn > tomorrow ? freeOn : tomorrow
      decision.changes.push({ ...unchanged(followUp), nextNoticeOn })
    }
    return
  }
  const isOnlyTips = all.every(({ followUp }) => mannerOf(followUp.kind).preference === 'tips')
  tell(decision, household, given, isOnlyTips ? 'safety-tips' : 'due-reminder', all, sendAfter)
}

/** What falls due at the same home in the same days comes along, instead of in a message of its own a week later. */
function joining(household: Household, given: Given, speaking: readonly Speaking[]): Speaking[] {
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

function tell(
  decision: Decision,
  { receiver }: Household,
  given: Given,
  kind: MessageKind,
  speaking: readonly Speaking[],
  sendAfter: Date,
): void {
  const refusal = refusalOfAddress(receiver)
  const homes = [...new Set(speaking.map(({ followUp }) => followUp.propertyId))]
  const keys = speaking.map(({ followUp, step }) =>
    noticeKey(followUp.kind, followUp.subjectId, followUp.dueOn, step),
  )
  const only = speaking[0]!.followUp
  const message: NewNotice = {
    kind,
    category: CATEGORY[kind] ?? 'reminder',
    propertyId: homes.length === 1 ? homes[0]! : null,
    visitId: only.subjectKind === 'visit' ? only.subjectId : null,
    dedupeKey: `${kind}/${receiver.id}/${keys.sort().join('+')}`,
    reason: reasonOf(speaking),
    sendAfter,
    refusal,
    notices: speaking.map(({ followUp, step }) => ({ followUpId: followUp.id, step })),
  }
  decision.messages.push(message)
  for (const { followUp, step, after } of speaking) {
    const told = refusal ? followUp.state : followUp.state === 'planned' ? 'told' : followUp.state
    const isOver = followUp.kind === 'self-test-tips' && !refusal
    decision.changes.push(
      isOver
        ? { ...ended(followUp), lastStep: step, state: 'done', closedReason: 'The tip was sent' }
        : moved(followUp, given, step, told, after),
    )
  }
}

const CATEGORY: Partial<Record<MessageKind, NewNotice['category']>> = {
  'unsafe-finding': 'safety',
  'visit-reminder': 'booking',
  'visit-no-access': 'booking',
  'safety-tips': 'tips',
}

/** `At 12 Quay Lane: Alarm at the end of its life (6), Next inspection`. */
function reasonOf(speaking: readonly Speaking[]): string {
  const homes = new Map<string, Map<string, number>>()
  for (const { followUp } of speaking) {
    const counts = homes.get(followUp.line1) ?? new Map<string, number>()
    const name = FOLLOW_UP_KINDS[followUp.kind].office
    homes.set(followUp.line1, counts.set(name, (counts.get(name) ?? 0) + 1))
  }
  return [...homes]
    .map(([line1, counts]) => {
      const names = [...counts].map(([name, count]) => (count > 1 ? `${name} (${count})` : name))
      return `At ${line1}: ${names.join(', ')}`
    })
    .join('; ')
}

/** Within the sending hours of every home that it tells of. */
const inHours = (given: Given, speaking: readonly Speaking[], at: Date) =>
  nextSendingTimeOfAll(
    at,
    speaking.map(({ followUp }) => followUp.zone),
    given.policy.sendingHours,
  )

const unchanged = ({ id, lastStep, nextNoticeOn, state }: OpenFollowUp): Change => ({
  id,
  lastStep,
  nextNoticeOn,
  state,
  closedReason: null,
})
const ended = (followUp: OpenFollowUp): Change => ({ ...unchanged(followUp), nextNoticeOn: null })

/** After a step was given, and never before the day after today: a follow-up speaks once a day at most. */
function moved(
  followUp: OpenFollowUp,
  given: Given,
  step: string | null,
  state: OpenFollowUp['state'],
  stepOn?: Day,
): Change {
  const { dueOn, kind, severity, zone } = followUp
  const today = given.today(zone)
  const after = stepOn && stepOn > today ? stepOn : today
  const next = nextNotice(dueOn, cadenceOf(given.policy, kind, severity), after, step)
  return { ...unchanged(followUp), lastStep: step, nextNoticeOn: next?.on ?? null, state }
}
