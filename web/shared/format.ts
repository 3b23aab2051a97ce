import { type Day, partsOf } from '../../trade/dates.ts'

const LOCALE = 'en-US'
const cache = new Map<string, Intl.DateTimeFormat>()

function formatter(options: Intl.DateTimeFormatOptions): Intl.DateTimeFormat {
  const key = JSON.stringify(options)
  const made = cache.get(key) ?? new Intl.DateTimeFormat(LOCALE, options)
  cache.set(key, made)
  return made
}

/** A calendar day, never shifted by a zone: `Jun 1, 2026`. */
export function formatDay(
  day: string,
  options: Intl.DateTimeFormatOptions = { dateStyle: 'medium' },
): string {
  const { year, month, date } = partsOf(day as Day)
  return formatter({ ...options, timeZone: 'UTC' }).format(new Date(Date.UTC(year, month - 1, date)))
}

export const formatWeekday = (day: string) =>
  formatDay(day, { weekday: 'long', month: 'long', day: 'numeric' })

/** A time on the wall of a zone: `9:30 AM`. */
export const formatTime = (instant: string, timeZone: string) =>
  formatter({ hour: 'numeric', minute: '2-digit', timeZone }).format(new Date(instant))

/** `9:00 – 11:00 AM` */
export const formatSpan = (from: string, to: string, timeZone: string) =>
  formatter({ hour: 'numeric', minute: '2-digit', timeZone }).formatRange(new Date(from), new Date(to))

export const formatInstant = (instant: string, timeZone?: string) =>
  formatter({ dateStyle: 'medium', timeStyle: 'short', ...(timeZone && { timeZone }) }).format(
    new Date(instant),
  )

export const formatMinutes = (minutes: number) =>
  minutes < 60
    ? `${minutes} min`
    : `${Math.floor(minutes / 60)} h${minutes % 60 ? ` ${minutes % 60} min` : ''}`

export const dayInZone = (instant: string | Date, timeZone: string): string =>
  new Intl.DateTimeFormat('en-CA', { timeZone, year: 'numeric', month: '2-digit', day: '2-digit' }).format(
    new Date(instant),
  )
