import type { Policy } from '../../../trade/follow-ups/policy.ts'
import type { Calendar } from './calendar.ts'
import type { MadeUpHome, Person } from './company.ts'
import { datesOfHome, isRightEnd, keepsFirst, type Watched } from './due-dates.ts'
import type { Outage } from './simulate.ts'
import type { Told } from './tell-person.ts'

/** What must be nought. Each with a first example in words. */
export const PROMISES = {
  missed: 'due dates met neither by a message nor by a recorded reason',
  twice: 'notices given twice',
  unwanted: 'messages to somebody who said no, or has nothing to do with the home',
  overCap: 'messages that offer work to a household over its cap',
  outsideQuietHours: 'messages sent outside the sending hours of a home they tell of',
  wrongDates: 'smoke alarms whose end is not ten years, or the maker’s life, from manufacture',
} as const
export type Promised = keyof typeof PROMISES

/** A due date may wait for the cap, for a worker that was away, and for the night in between. */
const SPARE_DAYS = 2

/** Watches a simulation from outside, by a calendar of its own. */
export function watchPromises(policy: Policy, calendar: Calendar) {
  const broken = Object.fromEntries(Object.keys(PROMISES).map((name) => [name, 0])) as Record<
    Promised,
    number
  >
  const examples: string[] = []
  const watched = new Map<MadeUpHome, Map<string, Watched>>()
  const all: Watched[] = []
  const steps = new Set<string>()
  const offers = new Map<Person, Date[]>()
  const ends = new Map<Watched, Date>()
  /** Said once for a date, it was said, also where they wanted no such mail in between. */
  const met = new Map<string, Date>()

  const fault = (name: Promised, example: string) => {
    if (broken[name]++ < 3) examples.push(`${PROMISES[name]}: ${example}`)
  }
  const homeOf = (home: MadeUpHome) => {
    let dues = watched.get(home)
    if (!dues) watched.set(home, (dues = new Map()))
    return dues
  }
  const keyOf = ({ kind, subjectId, dueOn }: Pick<Watched, 'kind' | 'subjectId' | 'dueOn'>) =>
    `${kind} ${subjectId} ${keepsFirst(kind) ? '' : dueOn}`

  /** The records of a home stand like this from now on. */
  function see(home: MadeUpHome, at: Date): void {
    const dues = homeOf(home)
    if (hasChanged(home)) readDates(home, dues, at)
    for (const due of dues.values()) rest(home, due, at)
  }

  function readDates(home: MadeUpHome, dues: Map<string, Watched>, at: Date): void {
    const now = datesOfHome(home)
    const keys = new Set(now.map(keyOf))
    for (const [key, due] of dues) {
      if (keys.has(key)) continue
      dues.delete(key)
      ends.set(due, at)
    }
    for (const each of now) {
      if (dues.has(keyOf(each))) continue
      const due: Watched = { ...each, home, from: at, metAt: met.get(keyOf(each)) ?? null, isResting: false }
      dues.set(keyOf(each), due)
      all.push(due)
    }
    for (const device of home.devices) {
      if (!isRightEnd(device, calendar))
        fault('wrongDates', `${device.equipment.manufacturedOn} ${device.dates.replaceBy}`)
    }
  }

  /** Dates are never changed in place: new ones are new objects. */
  const lastRead = new Map<MadeUpHome, unknown[]>()
  function hasChanged(home: MadeUpHome): boolean {
    const before = lastRead.get(home)
    const now: unknown[] = [home.archived, home.contact?.tipsSince, ...home.devices.map(({ dates }) => dates)]
    if (before?.length === now.length && before.every((each, n) => each === now[n])) return false
    lastRead.set(home, now)
    return true
  }

  /** While a visit is booked or asked for, or they wished to be left alone, that is the recorded reason. */
  function rest(home: MadeUpHome, due: Watched, at: Date): void {
    const open = home.open.find(({ kind, subjectId }) => kind === due.kind && subjectId === due.subjectId)
    const wasResting = due.isResting
    due.isResting = open?.state === 'booked' || open?.state === 'asked'
    if (wasResting && !due.isResting && at > due.from) due.from = at
    if (open?.snoozedUntil && new Date(open.snoozedUntil) > due.from) due.from = new Date(open.snoozedUntil)
  }

  function meet(home: MadeUpHome, about: Pick<Watched, 'kind' | 'subjectId' | 'dueOn'>, at: Date): void {
    const key = keyOf(about)
    if (!keepsFirst(about.kind)) met.set(key, at)
    const due = homeOf(home).get(key)
    if (due && (due.metAt === null || due.metAt > at)) due.metAt = at
  }

  return {
    broken,
    examples,
    see,
    meet,
    onTold(told: Told): void {
      const { about, message, person, sentAt, decidedAt } = told
      for (const { home, followUp, dueOn, step } of about) {
        meet(home, followUp, sentAt ?? decidedAt)
        const key = `${person.id} ${followUp.kind} ${followUp.subjectId} ${dueOn} ${step}`
        if (steps.has(key)) fault('twice', key)
        steps.add(key)
        if (home.contact !== person) fault('unwanted', `${person.id} about ${home.line1}`)
      }
      if (!sentAt || message.category === 'safety') return
      const isOffer = message.category === 'reminder' || message.category === 'tips'
      const word = person.receiver.wants[message.category]
      if (isOffer && word !== true && (word === false || message.category === 'tips'))
        fault('unwanted', `${person.id} ${message.kind}`)
      const at = isOffer ? sentAt : message.sendAfter
      for (const { home } of about) {
        const time = calendar.clockOf(home.zone).time(at.getTime())
        const { from, to } = policy.sendingHours
        if (time < from || time >= to) fault('outsideQuietHours', `${time} at ${home.line1}, ${home.zone}`)
      }
      if (isOffer)
        cap(
          person,
          sentAt,
          about.map(({ home }) => home),
        )
    },
    finish(end: Date, outages: readonly Outage[]) {
      const longestMs = Math.max(0, ...outages.map(({ from, to }) => to - from))
      const grace = (policy.cap.days + SPARE_DAYS) * 86_400_000 + longestMs
      let late = 0
      let count = 0
      for (const due of all) {
        const over = ends.get(due) ?? end
        const dueAt = endOfDay(due)
        const wanted = Math.max(dueAt, due.from.getTime())
        if (due.metAt) count++
        if (due.metAt && due.metAt.getTime() > wanted) late++
        const deadline = wanted + grace
        const isMet = due.metAt !== null && due.metAt.getTime() <= deadline
        if (!isMet && !due.isResting && deadline < over.getTime()) {
          fault(
            'missed',
            `${due.kind} of ${due.subjectId}, due ${due.dueOn}, on record since ${due.from.toISOString()}`,
          )
        }
      }
      return { dueDates: all.length, met: count, metAfterDue: late }
    },
  }

  function cap(person: Person, sentAt: Date, homes: readonly MadeUpHome[]): void {
    const before = offers.get(person) ?? []
    // The cap counts wall-clock days; of several zones the kindest to the engine counts.
    const isWithin = (earlier: Date, { zone }: MadeUpHome) => {
      const clock = calendar.clockOf(zone)
      return clock.wall(sentAt.getTime()) - clock.wall(earlier.getTime()) < policy.cap.days * 86_400_000
    }
    const latest = before.filter((each) => homes.every((home) => isWithin(each, home)))
    if (latest.length >= policy.cap.messages) fault('overCap', `${person.id} at ${sentAt.toISOString()}`)
    offers.set(person, [...before.slice(-10), sentAt])
  }
}

/** Midnight after the due date, somewhere on earth: no zone is further behind than twelve hours. */
function endOfDay({ dueOn }: Watched): number {
  return Date.parse(dueOn) + 1.5 * 86_400_000
}
