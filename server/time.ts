import { Temporal } from 'temporal-polyfill'
import { type Day, day } from '../trade/dates.ts'
import { zoneOffset } from './zone-offsets.ts'

const DAY_MS = 86_400_000

/** The calendar day that an instant falls on in an IANA zone. */
export function dayInZone(instant: Date, zone: string): Day {
  return wall(instant, zone).toISOString().slice(0, 10) as Day
}

/** The wall clock of a zone, as if the wall were in UTC. */
function wall(instant: Date, zone: string): Date {
  return new Date(instant.getTime() + zoneOffset(instant.getTime(), zone))
}

/**
 * The instant of a wall-clock time (`HH:MM`) on a day in a zone. In the gap of a clock change the offset before it
 * counts, in the overlap the first occurrence: RFC 5545 §3.3.5, "compatible" in Temporal's words.
 */
export function instantAt(value: Day, time: string, zone: string): Date {
  const local = Date.parse(`${value}T${time}Z`)
  // A day to either side is before and after any change that could matter to this time of day.
  const [before, after] = [zoneOffset(local - DAY_MS, zone), zoneOffset(local + DAY_MS, zone)]
  const first = local - before
  if (before === after || zoneOffset(first, zone) === before) return new Date(first)
  const second = local - after
  return new Date(zoneOffset(second, zone) === after ? second : first)
}

/** First instant of a day and of the next one: half-open, 23 to 25 hours long. */
export function dayBounds(value: Day, zone: string): { from: Date; to: Date } {
  const start = Temporal.PlainDate.from(value)
  const at = (date: Temporal.PlainDate) => new Date(date.toZonedDateTime(zone).epochMilliseconds)
  return { from: at(start), to: at(start.add({ days: 1 })) }
}

/** `HH:MM` on the wall of a zone. */
export function timeInZone(instant: Date, zone: string): string {
  return wall(instant, zone).toISOString().slice(11, 16)
}

export function isTimeZone(zone: string): boolean {
  try {
    Temporal.Now.zonedDateTimeISO(zone)
    return true
  } catch {
    return false
  }
}

/** A date column as the ORM hands it over (midnight UTC) and back. */
export function toDay(date: Date): Day
export function toDay(date: Date | null): Day | null
export function toDay(date: Date | null): Day | null {
  return date && day(date.toISOString().slice(0, 10))
}
export function fromDay(value: Day): Date
export function fromDay(value: Day | null): Date | null
export function fromDay(value: Day | null): Date | null {
  return value === null ? null : new Date(`${value}T00:00:00Z`)
}
