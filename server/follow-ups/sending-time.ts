import { Temporal } from 'temporal-polyfill'
import { addDays } from '../../trade/dates.ts'
import { dayInZone, instantAt, timeInZone } from '../time.ts'

/** The first moment from `at` on that lies within the hours (`HH:MM`, the end not included) on the wall of a zone. */
export function nextSendingTime(at: Date, zone: string, hours: { from: string; to: string }): Date {
  const time = timeInZone(at, zone)
  if (time >= hours.from && time < hours.to) return at
  const today = dayInZone(at, zone)
  return instantAt(time < hours.from ? today : addDays(today, 1), hours.from, zone)
}

/**
 * The same for the homes of one person, which may lie in several zones. Where their hours never meet, as between New York
 * and Kiritimati, those of the first zone count.
 */
export function nextSendingTimeOfAll(
  at: Date,
  zones: readonly string[],
  hours: { from: string; to: string },
): Date {
  const [first, ...others] = new Set(zones)
  const start = nextSendingTime(at, first!, hours)
  if (others.length === 0) return start
  let time = start
  // Two days: what has not met by then never does.
  while (time.getTime() - start.getTime() < 2 * 86_400_000) {
    const later = [first!, ...others].map((zone) => nextSendingTime(time, zone, hours))
    const latest = later.reduce((a, b) => (b > a ? b : a))
    if (latest.getTime() === time.getTime()) return time
    time = latest
  }
  return start
}

/** When another message may follow: at most `messages` in any `days`, counted in wall-clock days of the zone. */
export function nextAllowed(
  sentAt: readonly Date[],
  cap: { messages: number; days: number },
  zone: string,
): Date | null {
  const [latest] = [...sentAt].sort((a, b) => b.getTime() - a.getTime()).slice(cap.messages - 1)
  if (cap.messages < 1 || !latest) return null
  const free = Temporal.Instant.fromEpochMilliseconds(latest.getTime())
    .toZonedDateTimeISO(zone)
    .add({ days: cap.days })
  return new Date(free.epochMilliseconds)
}
