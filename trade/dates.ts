/** A calendar date as people mean it on a label or in a diary: `YYYY-MM-DD`, without time or zone. */
export type Day = string & { readonly day: unique symbol }

const DAY_PATTERN = /^(\d{4})-(\d{2})-(\d{2})$/

/** Days in a month of the Gregorian calendar; `month` counts from 1. */
export function daysInMonth(year: number, month: number): number {
  if (month === 2) return isLeapYear(year) ? 29 : 28
  return [4, 6, 9, 11].includes(month) ? 30 : 31
}

export function isLeapYear(year: number): boolean {
  return (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0
}

/** The day that a text names, or null when no such day exists (`2016-02-30`). */
export function parseDay(text: string): Day | null {
  const match = DAY_PATTERN.exec(text)
  if (!match) return null
  const [year, month, date] = [Number(match[1]), Number(match[2]), Number(match[3])]
  if (month < 1 || month > 12 || date < 1 || date > daysInMonth(year, month)) return null
  return text as Day
}

/** A day written in code or stored by us. Throws RangeError when it is not one. */
export function day(text: string): Day {
  const parsed = parseDay(text)
  if (!parsed) throw new RangeError(`not a calendar day: ${text}`)
  return parsed
}

export function dayOf(year: number, month: number, date: number): Day {
  return day(
    `${String(year).padStart(4, '0')}-${String(month).padStart(2, '0')}-${String(date).padStart(2, '0')}`,
  )
}

export function partsOf(value: Day): { year: number; month: number; date: number } {
  return {
    year: Number(value.slice(0, 4)),
    month: Number(value.slice(5, 7)),
    date: Number(value.slice(8, 10)),
  }
}

export function yearOf(value: Day): number {
  return Number(value.slice(0, 4))
}

/** Same date that many months on, or the last day of the month where it has no such date (31 January + 1 month). */
export function addMonths(value: Day, months: number): Day {
  const { year, month, date } = partsOf(value)
  const count = year * 12 + (month - 1) + months
  const [toYear, toMonth] = [Math.floor(count / 12), (((count % 12) + 12) % 12) + 1]
  return dayOf(toYear, toMonth, Math.min(date, daysInMonth(toYear, toMonth)))
}

/** 29 February becomes 28 February in an ordinary year, never 1 March. */
export function addYears(value: Day, years: number): Day {
  return addMonths(value, years * 12)
}

const MS_PER_DAY = 86_400_000

function dayNumber(value: Day): number {
  const { year, month, date } = partsOf(value)
  return Date.UTC(year, month - 1, date) / MS_PER_DAY
}

const TWO_DIGITS = Array.from({ length: 32 }, (_, n) => String(n).padStart(2, '0'))

/** Throws RangeError beyond the year 9999. */
export function addDays(value: Day, days: number): Day {
  const at = new Date((dayNumber(value) + days) * MS_PER_DAY)
  const year = at.getUTCFullYear()
  // Put together by hand: a run over a million homes does little else.
  if (year < 1000 || year > 9999) return dayOf(year, at.getUTCMonth() + 1, at.getUTCDate())
  return `${year}-${TWO_DIGITS[at.getUTCMonth() + 1]}-${TWO_DIGITS[at.getUTCDate()]}` as Day
}

/** Calendar days from `from` to `to`; negative when `to` is earlier. */
export function daysBetween(from: Day, to: Day): number {
  return dayNumber(to) - dayNumber(from)
}

/** Whole years completed from `from` to `to`. */
export function yearsBetween(from: Day, to: Day): number {
  const years = yearOf(to) - yearOf(from)
  return to < addYears(from, years) ? years - 1 : years
}

export function earliest(...days: (Day | null | undefined)[]): Day | null {
  const known = days.filter((value): value is Day => value != null)
  return known.length ? known.reduce((a, b) => (b < a ? b : a)) : null
}

export function latest(...days: (Day | null | undefined)[]): Day | null {
  const known = days.filter((value): value is Day => value != null)
  return known.length ? known.reduce((a, b) => (b > a ? b : a)) : null
}
