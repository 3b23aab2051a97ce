import { Temporal } from 'temporal-polyfill'
import { type Day, day } from '../trade/dates.ts'

/** The calendar day that an instant falls on in an IANA zone. */
export function dayInZone(instant: Date, zone: string): Day {
  return Temporal.Instant.fromEpochMilliseconds(instant.getTime())
    .toZonedDateTimeISO(zone)
    .toPlainDate()
    .toString() as Day
}

/**
 * The instant of a wall-clock time (`HH:MM`) on a day in a zone. In the gap of a clock change the offset before it
 * counts, in the overlap the first occurrence: RFC 5545 §3.3.5, "compatible" in Temporal's words.
 */
export function instantAt(value: Day, time: string, zone: string): Date {
  const zoned = Temporal.PlainDate.from(value).toZonedDateTime({
    timeZone: zone,
    plainTime: Temporal.PlainTime.from(time),
  })
  return new Date(zoned.epochMilliseconds)
}

/** First instant of a day and of the next one: half-open, 23 to 25 hours long. */
export function dayBounds(value: Day, zone: string): { from: Date; to: Date } {
  const start = Temporal.PlainDate.from(value)
  const at = (date: Temporal.PlainDate) => new Date(date.toZonedDateTime(zone).epochMilliseconds)
  return { from: at(start), to: at(start.add({ days: 1 })) }
}

/** `HH:MM` on the wall of a zone. */
export function timeInZone(instant: Date, zone: string): string {
  return Temporal.Instant.fromEpochMilliseconds(instant.getTime())
    .toZonedDateTimeISO(zone)
    .toPlainTime()
    .toString({ smallestUnit: 'minute' })
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
