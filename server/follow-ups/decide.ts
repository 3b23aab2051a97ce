import { addDays } from '../../trade/dates.ts'
import { STOP_CONDITIONS } from '../../trade/follow-ups/kind.ts'
import { FOLLOW_UP_KINDS } from '../../trade/follow-ups/kinds.ts'
import { mannerOf } from '../../trade/follow-ups/policy.ts'
import { noticeKey } from '../../trade/follow-ups/steps.ts'
import { topicOf } from '../../trade/follow-ups/topics.ts'
import { isWanted, type MessageKind } from '../messages/categories.ts'
import { refusalOfAddress } from '../messages/refusal.ts'
import { dayInZone } from '../time.ts'
import type { Decision, Household, NewNotice } from './household.ts'
import { type Given, joining, type Speaking, stepToday } from './notice-of-today.ts'
import { nextAllowed, nextSendingTimeOfAll } from './sending-time.ts'
import { ended, moved, unchanged } from './standing.ts'

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
