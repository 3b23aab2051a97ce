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
