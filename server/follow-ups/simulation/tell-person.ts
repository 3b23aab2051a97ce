import type { Day } from '../../../trade/dates.ts'
import { mannerOf, type Policy } from '../../../trade/follow-ups/policy.ts'
import { instantAt } from '../../time.ts'
import { decide } from '../decide.ts'
import type { NewNotice } from '../household.ts'
import { nextSendingTimeOfAll } from '../sending-time.ts'
import type { MadeUpHome, OpenInHome, Person } from './company.ts'
import { end, type Ended } from './plan-home.ts'

/** One message that was decided on, with what it tells of. */
export interface Told {
  person: Person
  message: NewNotice
  /** What it tells of, as it stood before. */
  about: { home: MadeUpHome; followUp: OpenInHome; dueOn: Day; step: string }[]
  decidedAt: Date
  /** Null when it was held back. */
  sentAt: Date | null
}
/** A step that the office has to do: a call or a letter. */
export interface Task {
  person: Person
  home: MadeUpHome
  followUp: OpenInHome
  step: string
}
export interface Heard {
  onTold: (told: Told) => void
  onTask: (task: Task) => void
  onEnd: (ended: Ended) => void
}

interface Given {
  policy: Policy
  now: Date
  today: (zone: string) => Day
  /** When a message that may go out at a time really goes: later while the worker is away. */
  goesAt: (sendAfter: Date) => Date
}

/** Decides about one household by the very code of the worker, and keeps what was decided. */
export function tellPerson(person: Person, given: Given, heard: Heard): void {
  const followUps = person.homes.flatMap(({ open }) => open)
  const place = new Map(
    person.homes.flatMap((home) => home.open.map((followUp) => [followUp.id, { home, followUp }])),
  )
  const { policy, now, today } = given
  // As the database keeps them: only the last weeks, sent or still to be sent.
  const since = now.getTime() - (policy.cap.days + 14) * 86_400_000
  person.offers = person.offers.filter(({ sendAfter }) => sendAfter.getTime() > since)
  const commercialAt = person.offers.map(({ sendAfter, sentAt }) => (sentAt <= now ? sentAt : sendAfter))
  const decision = decide({ receiver: person.receiver, followUps, commercialAt }, { policy, now, today })
  for (const message of decision.messages) {
    const about = message.notices.map(({ followUpId, step }) => {
      const { home, followUp } = place.get(followUpId)!
      return { home, followUp: { ...followUp }, dueOn: followUp.dueOn, step }
    })
    const zones = about.map(({ home }) => home.zone)
    const sentAt = message.refusal ? null : goesAt(given, message, zones)
    const isOffer = message.category === 'reminder' || message.category === 'tips'
    if (sentAt && isOffer) person.offers.push({ sendAfter: message.sendAfter, sentAt })
    heard.onTold({ person, message, about, decidedAt: now, sentAt })
  }
  for (const { id, lastStep, nextNoticeOn, state, closedReason } of decision.changes) {
    const { home, followUp } = place.get(id)!
    const isTask = lastStep !== null && lastStep !== followUp.lastStep && !decision.messages.some(tells(id))
    if (isTask) heard.onTask({ person, home, followUp, step: lastStep })
    Object.assign(followUp, { lastStep, nextNoticeOn, state })
    if (state === 'done' || state === 'dismissed') end(home, followUp, state, closedReason ?? '', heard.onEnd)
  }
}

const tells = (id: string) => (message: NewNotice) =>
  message.notices.some(({ followUpId }) => followUpId === id)

/** As the worker does: mail that offers work and was held up does not go out at night at any of its homes either. */
function goesAt(
  { goesAt: leave, policy }: Given,
  { category, sendAfter }: NewNotice,
  zones: readonly string[],
): Date {
  const at = leave(sendAfter)
  const isOffer = category === 'reminder' || category === 'tips'
  return isOffer ? nextSendingTimeOfAll(at, zones, policy.sendingHours) : at
}

/** When the household is next to be looked at: midnight, at the home, of the day of its next notice. */
export function nextLook(person: Person, now: Date): number {
  let next = Infinity
  for (const { open, zone, archived } of person.homes) {
    if (archived) continue
    for (const { kind, severity, state, nextNoticeOn, snoozedUntil } of open) {
      const isUrgent = mannerOf(kind, severity).urgency === 'at-once'
      if (nextNoticeOn === null || (!isUrgent && state !== 'planned' && state !== 'told')) continue
      const on = snoozedUntil !== null && snoozedUntil > nextNoticeOn ? snoozedUntil : nextNoticeOn
      next = Math.min(next, midnight(on, zone))
    }
  }
  return Math.max(next, now.getTime())
}

const midnights = new Map<string, number>()

function midnight(on: Day, zone: string): number {
  const key = `${on}${zone}`
  let found = midnights.get(key)
  if (found === undefined) midnights.set(key, (found = instantAt(on, '00:00', zone).getTime()))
  return found
}
