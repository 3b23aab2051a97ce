import type { Calendar } from './calendar.ts'
import type { Person } from './company.ts'
import { type Promised, PROMISES } from './promises.ts'
import type { Simulated } from './watch.ts'
import type { Told } from './tell-person.ts'

export interface Month {
  offers: number
  visits: number
  safety: number
  heldBack: number
}

export interface Counted {
  months: [string, Month][]
  days: [string, number][]
  householdMaximum: number
  householdMaximumIn7Days: number
  householdMaximumInAYear: number
  onClockChangeDays: number
  onLeapDays: number
}

const DAY_MS = 86_400_000

/** What would be sent: per month, on the worst day, and to the household that hears most. */
export function countMessages(calendar: Calendar) {
  const months = new Map<string, Month>()
  const days = new Map<string, number>()
  const offers = new Map<Person, number[]>()
  const total = new Map<Person, number>()
  let householdMaximumIn7Days = 0
  let householdMaximumInAYear = 0
  let onClockChange = 0
  let onLeapDay = 0

  return {
    onTold({ person, message, sentAt, about }: Told): void {
      const at = (sentAt ?? message.sendAfter).getTime()
      const clock = calendar.clockOf(about[0]!.home.zone)
      const day = clock.day(at)
      const name = day.slice(0, 7)
      let month = months.get(name)
      if (!month) months.set(name, (month = { offers: 0, visits: 0, safety: 0, heldBack: 0 }))
      if (!sentAt) {
        month.heldBack++
        return
      }
      const isVisit = message.category === 'booking'
      month[message.category === 'safety' ? 'safety' : isVisit ? 'visits' : 'offers']++
      days.set(day, (days.get(day) ?? 0) + 1)
      total.set(person, (total.get(person) ?? 0) + 1)
      if (clock.isClockChange(at)) onClockChange++
      if (day.endsWith('-02-29')) onLeapDay++
      if (isVisit || message.category === 'safety') return
      const ofYear = (offers.get(person) ?? []).filter((each) => sentAt.getTime() - each < 365 * DAY_MS)
      ofYear.push(sentAt.getTime())
      offers.set(person, ofYear)
      // An hour less, for the clock change that a week may hold.
      const ofWeek = ofYear.filter((each) => sentAt.getTime() - each < 7 * DAY_MS - 3_600_000)
      householdMaximumIn7Days = Math.max(householdMaximumIn7Days, ofWeek.length)
      householdMaximumInAYear = Math.max(householdMaximumInAYear, ofYear.length)
    },
    counted(): Counted {
      return {
        months: [...months],
        days: [...days],
        householdMaximum: Math.max(0, ...total.values()),
        householdMaximumIn7Days,
        householdMaximumInAYear,
        onClockChangeDays: onClockChange,
        onLeapDays: onLeapDay,
      }
    },
  }
}

const sum = (numbers: readonly number[]) => numbers.reduce((a, b) => a + b, 0)
const most = (numbers: readonly number[]) => numbers.reduce((a, b) => Math.max(a, b), 0)

/** The parts of one company put together: what happens in a month or on a day adds up, a household lies in one part. */
export function addUp(parts: readonly Simulated[]) {
  const months = new Map<string, Month>()
  const days = new Map<string, number>()
  for (const part of parts) {
    for (const [name, { offers, visits, safety, heldBack }] of part.months) {
      const there = months.get(name) ?? { offers: 0, visits: 0, safety: 0, heldBack: 0 }
      months.set(name, {
        offers: there.offers + offers,
        visits: there.visits + visits,
        safety: there.safety + safety,
        heldBack: there.heldBack + heldBack,
      })
    }
    for (const [name, count] of part.days) days.set(name, (days.get(name) ?? 0) + count)
  }
  const sent = [...months.values()].map(({ offers, visits, safety }) => offers + visits + safety)
  const total = (name: 'devices' | 'dueDates' | 'met' | 'metAfterDue' | 'onClockChangeDays' | 'onLeapDays') =>
    sum(parts.map((part) => part[name]))
  return {
    months: [...months].sort(([a], [b]) => (a < b ? -1 : 1)),
    figures: {
      devices: total('devices'),
      messages: sum(sent),
      heldBack: sum([...months.values()].map(({ heldBack }) => heldBack)),
      perMonthPeak: most(sent),
      perDayPeak: most([...days.values()]),
      householdMaximum: most(parts.map((part) => part.householdMaximum)),
      householdMaximumIn7Days: most(parts.map((part) => part.householdMaximumIn7Days)),
      householdMaximumInAYear: most(parts.map((part) => part.householdMaximumInAYear)),
      onClockChangeDays: total('onClockChangeDays'),
      onLeapDays: total('onLeapDays'),
      dueDates: total('dueDates'),
      met: total('met'),
      metAfterDue: total('metAfterDue'),
    },
    broken: Object.fromEntries(
      Object.keys(PROMISES).map((name) => [name, sum(parts.map((part) => part.broken[name as Promised]))]),
    ) as Record<Promised, number>,
    examples: parts.flatMap((part) => part.examples),
  }
}
