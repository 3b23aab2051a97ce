import { addDays, type Day, daysInMonth, dayOf, isLeapYear } from '../dates.ts'
import { MONTH_NAME, monthNumber } from './label-words.ts'

export type Precision = 'day' | 'week' | 'month' | 'year'

/** One way to read a group of signs as a date, before anybody asks whether it can be true. */
export interface Candidate {
  day: Day
  precision: Precision
  layout: Layout
}
export type Layout =
  | 'YYYY-MM-DD'
  | 'YYYYMMDD'
  | 'YYYY MON DD'
  | 'MON DD YYYY'
  | 'DD MON YYYY'
  | 'MON YYYY'
  | 'MM/DD/YYYY'
  | 'DD/MM/YYYY'
  | 'MM/YYYY'
  | 'MM/YY'
  | 'YYYY/MM'
  | 'YYYY-Www'
  | 'YYYYDDD'
  | 'YYDDD'
  | 'YYWW'
  | 'WWYY'
  | 'MMYY'
  | 'YYYY'

/** How a two-digit year becomes four digits: it depends on whether the date looks back or ahead. */
export type Century = (twoDigits: number) => number

type Read = (groups: readonly string[], century: Century) => (Candidate | null)[]

/** First day of an ISO 8601 week, or null where the year has no such week. Week 1 holds 4 January. */
export function isoWeekStart(year: number, week: number): Day | null {
  const monday = addDays(mondayOf(dayOf(year, 1, 4)), (week - 1) * 7)
  const isInYear = week >= 1 && monday < mondayOf(dayOf(year + 1, 1, 4))
  return isInYear ? monday : null
}

function mondayOf(value: Day): Day {
  const weekday = (new Date(`${value}T00:00:00Z`).getUTCDay() + 6) % 7
  return addDays(value, -weekday)
}

/** Four digits outside these are a serial number, not a year. */
function isYear(year: number): boolean {
  return year >= 1900 && year <= 2199
}

function onDay(year: number, month: number, date: number, layout: Layout): Candidate | null {
  if (!isYear(year) || month < 1 || month > 12 || date < 1 || date > daysInMonth(year, month)) return null
  return { day: dayOf(year, month, date), precision: 'day', layout }
}

function inMonth(year: number, month: number, layout: Layout): Candidate | null {
  if (!isYear(year) || month < 1 || month > 12) return null
  return { day: dayOf(year, month, 1), precision: 'month', layout }
}

function inWeek(year: number, week: number, layout: Layout): Candidate | null {
  const start = isYear(year) ? isoWeekStart(year, week) : null
  return start && { day: start, precision: 'week', layout }
}

function inYear(year: number): Candidate | null {
  return isYear(year) ? { day: dayOf(year, 1, 1), precision: 'year', layout: 'YYYY' } : null
}

function onDayOfYear(year: number, ordinal: number, layout: Layout): Candidate | null {
  if (!isYear(year) || ordinal < 1 || ordinal > (isLeapYear(year) ? 366 : 365)) return null
  return { day: addDays(dayOf(year, 1, 1), ordinal - 1), precision: 'day', layout }
}

function fullYear(digits: string, century: Century): number {
  return digits.length === 2 ? century(Number(digits)) : Number(digits)
}

const YEAR = '(\\d{4})'
const TWO = '(\\d{1,2})'
const GAP = '[\\s.,/-]*'

/**
 * Layouts seen on labels and in recall notices; the first pattern that fits a place in the text takes it. Makers
 * differ, so every reading of a pattern is kept. Common practice, except where a recall notice shows it:
 * `2013 Nov. 05`, `2017JUN09` (2018 recall), `92192` and `9228` (NFPA Fire News, 1993 recall).
 */
export const LAYOUTS: readonly { pattern: string; read: Read }[] = [
  {
    pattern: `${YEAR}[\\s.,/-]*W(?:EE)?K?\\s*(\\d{2})`,
    read: ([year, week]) => [inWeek(Number(year), Number(week), 'YYYY-Www')],
  },
  {
    pattern: `${YEAR}${GAP}${MONTH_NAME}${GAP}${TWO}`,
    read: ([year, month, date]) => [onDay(Number(year), monthNumber(month!), Number(date), 'YYYY MON DD')],
  },
  {
    pattern: `${MONTH_NAME}${GAP}${TWO}[\\s.,/-]+(\\d{4}|\\d{2})`,
    read: ([month, date, year], century) => [
      onDay(fullYear(year!, century), monthNumber(month!), Number(date), 'MON DD YYYY'),
    ],
  },
  {
    pattern: `${TWO}${GAP}${MONTH_NAME}${GAP}(\\d{4}|\\d{2})`,
    read: ([date, month, year], century) => [
      onDay(fullYear(year!, century), monthNumber(month!), Number(date), 'DD MON YYYY'),
    ],
  },
  {
    pattern: `${YEAR}${GAP}${MONTH_NAME}`,
    read: ([year, month]) => [inMonth(Number(year), monthNumber(month!), 'MON YYYY')],
  },
  {
    pattern: `${MONTH_NAME}${GAP}${YEAR}`,
    read: ([month, year]) => [inMonth(Number(year), monthNumber(month!), 'MON YYYY')],
  },
  {
    pattern: `${YEAR}\\s*[-./]\\s*${TWO}\\s*[-./]\\s*${TWO}`,
    read: ([year, month, date]) => [onDay(Number(year), Number(month), Number(date), 'YYYY-MM-DD')],
  },
  {
    pattern: `${TWO}\\s*[-./]\\s*${TWO}\\s*[-./]\\s*(\\d{4}|\\d{2})`,
    read: ([first, second, year], century) => {
      const whole = fullYear(year!, century)
      return [
        onDay(whole, Number(first), Number(second), 'MM/DD/YYYY'),
        onDay(whole, Number(second), Number(first), 'DD/MM/YYYY'),
      ]
    },
  },
  {
    pattern: `${TWO}\\s*[-./]\\s*${YEAR}`,
    read: ([month, year]) => [inMonth(Number(year), Number(month), 'MM/YYYY')],
  },
  {
    pattern: `${YEAR}\\s*[-./]\\s*${TWO}`,
    read: ([year, month]) => [inMonth(Number(year), Number(month), 'YYYY/MM')],
  },
  {
    pattern: `${TWO}\\s*[-./]\\s*(\\d{2})`,
    read: ([month, year], century) => [inMonth(century(Number(year)), Number(month), 'MM/YY')],
  },
  {
    pattern: '(\\d{4})(\\d{2})(\\d{2})',
    read: ([year, month, date]) => [onDay(Number(year), Number(month), Number(date), 'YYYYMMDD')],
  },
  {
    pattern: '(\\d{4})(\\d{3})',
    read: ([year, ordinal]) => [onDayOfYear(Number(year), Number(ordinal), 'YYYYDDD')],
  },
  {
    pattern: '(\\d{2})(\\d{3})',
    read: ([year, ordinal], century) => [onDayOfYear(century(Number(year)), Number(ordinal), 'YYDDD')],
  },
  {
    pattern: '(\\d{2})(\\d{2})',
    read: ([left, right], century) => [
      inWeek(century(Number(left)), Number(right), 'YYWW'),
      inWeek(century(Number(right)), Number(left), 'WWYY'),
      inMonth(century(Number(right)), Number(left), 'MMYY'),
      inYear(Number(left! + right!)),
    ],
  },
]
