import type { Day } from '../../trade/dates.ts'
import { ARRIVAL_WINDOWS, WORK_ENDS_AT } from '../../trade/visits.ts'
import { dayInZone, instantAt, timeInZone } from '../time.ts'
import type { FreeWindowsView } from './schema.ts'

export interface Booking {
  technicianId: string
  startsAt: Date
  endsAt: Date
}
interface Asked {
  days: readonly Day[]
  zone: string
  lengthMinutes: number
  technicians: readonly { id: string; name: string }[]
  bookings: readonly Booking[]
  now: Date
}

/** Windows in which somebody could come, and who: the visit begins inside the window, and ends in working hours. */
export function freeWindows(asked: Asked): FreeWindowsView['windows'] {
  return asked.days
    .filter((day) => isWorkingDay(day))
    .flatMap((day) => ARRIVAL_WINDOWS.map(({ start, end }) => windowOn(day, start, end, asked)))
    .filter((window) => window.technicians.length > 0)
}

/** Monday to Friday: common practice, no source. Other days are booked by hand. */
function isWorkingDay(day: Day): boolean {
  const weekday = new Date(`${day}T00:00:00Z`).getUTCDay()
  return weekday >= 1 && weekday <= 5
}

function windowOn(day: Day, start: string, end: string, asked: Asked) {
  const [from, to, workEnds] = [start, end, WORK_ENDS_AT].map((time) =>
    instantAt(day, time, asked.zone).getTime(),
  )
  const latest = Math.min(to!, workEnds! - asked.lengthMinutes * 60_000)
  const technicians = asked.technicians.flatMap(({ id, name }) => {
    const taken = asked.bookings.filter((booking) => booking.technicianId === id)
    const startsAt = earliestStart(Math.max(from!, asked.now.getTime()), latest, asked.lengthMinutes, taken)
    return startsAt === null ? [] : [{ id, name, startsAt: timeInZone(new Date(startsAt), asked.zone) }]
  })
  return {
    day,
    windowStart: start,
    windowEnd: end,
    windowStartsAt: new Date(from!).toISOString(),
    windowEndsAt: new Date(to!).toISOString(),
    technicians,
  }
}

const QUARTER_MS = 15 * 60_000
const nextQuarter = (at: number) => Math.ceil(at / QUARTER_MS) * QUARTER_MS

/** First quarter of an hour from `from` to `latest` at which nothing taken is in the way. Zones differ by quarters. */
function earliestStart(
  from: number,
  latest: number,
  lengthMinutes: number,
  taken: readonly Booking[],
): number | null {
  const inOrder = [...taken].sort((a, b) => a.startsAt.getTime() - b.startsAt.getTime())
  let start = nextQuarter(from)
  for (const booking of inOrder) {
    const [begins, ends] = [booking.startsAt.getTime(), booking.endsAt.getTime()]
    if (ends > start && begins < start + lengthMinutes * 60_000) start = nextQuarter(ends)
  }
  return start <= latest ? start : null
}

/** `count` days from a day on. */
export function daysFrom(first: Day, count: number): Day[] {
  const start = new Date(`${first}T12:00:00Z`).getTime()
  return Array.from({ length: count }, (_, i) => dayInZone(new Date(start + i * 86_400_000), 'UTC'))
}
