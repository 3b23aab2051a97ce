import fc from 'fast-check'
import { DateTime } from 'luxon'
import { describe, expect, test } from 'vitest'
import {
  addDays,
  addMonths,
  addYears,
  type Day,
  day,
  dayOf,
  daysBetween,
  daysInMonth,
  earliest,
  isLeapYear,
  latest,
  parseDay,
  partsOf,
  yearOf,
  yearsBetween,
} from '../../trade/dates.ts'

const utc = (value: Day) => DateTime.fromISO(value, { zone: 'utc' })
/** Any day of fifty years. */
const anyDay = fc.integer({ min: 0, max: 50 * 365 }).map((days) => addDays(day('1990-01-01'), days))

describe('calendar against luxon, fifty years of random days', () => {
  test('days after', () => {
    fc.assert(
      fc.property(anyDay, fc.integer({ min: -20_000, max: 20_000 }), (from, days) => {
        expect(addDays(from, days)).toBe(utc(from).plus({ days }).toISODate())
      }),
    )
  })

  test('months after, last day of a shorter month', () => {
    fc.assert(
      fc.property(anyDay, fc.integer({ min: -600, max: 600 }), (from, months) => {
        expect(addMonths(from, months)).toBe(utc(from).plus({ months }).toISODate())
      }),
    )
  })

  test('years after', () => {
    fc.assert(
      fc.property(anyDay, fc.integer({ min: -40, max: 40 }), (from, years) => {
        expect(addYears(from, years)).toBe(utc(from).plus({ years }).toISODate())
      }),
    )
  })

  test('days between', () => {
    fc.assert(
      fc.property(anyDay, anyDay, (from, to) => {
        expect(daysBetween(from, to)).toBe(utc(to).diff(utc(from), 'days').days)
      }),
    )
  })

  test('whole years between', () => {
    fc.assert(
      fc.property(anyDay, anyDay, (a, b) => {
        const [from, to] = a <= b ? [a, b] : [b, a]
        expect(yearsBetween(from, to)).toBe(Math.floor(utc(to).diff(utc(from), 'years').years))
      }),
    )
  })

  test('days in month and leap years', () => {
    for (let year = 1996; year <= 2046; year++) {
      expect(isLeapYear(year)).toBe(DateTime.utc(year).isInLeapYear)
      for (let month = 1; month <= 12; month++) {
        expect(daysInMonth(year, month)).toBe(DateTime.utc(year, month).daysInMonth)
      }
    }
  })

  test.each([1900, 2000, 2100])('centuries: %i', (year) => {
    expect(isLeapYear(year)).toBe(DateTime.utc(year).isInLeapYear)
  })

  test('a text is a day exactly when luxon says so', () => {
    const texts = fc
      .tuple(
        fc.integer({ min: 1990, max: 2040 }),
        fc.integer({ min: 0, max: 14 }),
        fc.integer({ min: 0, max: 33 }),
      )
      .map((parts) => parts.map((part) => String(part).padStart(2, '0')).join('-'))
    fc.assert(
      fc.property(texts, (text) => {
        expect(parseDay(text) !== null).toBe(DateTime.fromISO(text, { zone: 'utc' }).isValid)
      }),
      { numRuns: 500 },
    )
  })
})

describe('section 12 of the follow-up dates: clamp, never roll over', () => {
  test.each([
    ['2016-02-29', 10, '2026-02-28'],
    ['2012-02-29', 10, '2022-02-28'],
    ['2020-02-29', 4, '2024-02-29'],
  ])('%s and %i years: %s', (from, years, to) => {
    expect(addYears(day(from), years)).toBe(to)
  })

  test.each([
    ['2025-01-31', 1, '2025-02-28'],
    ['2025-01-31', 2, '2025-03-31'],
    ['2024-08-31', 6, '2025-02-28'],
    ['2025-03-31', -1, '2025-02-28'],
    ['2025-01-15', -1, '2024-12-15'],
    ['2025-12-15', 1, '2026-01-15'],
  ])('%s and %i months: %s', (from, months, to) => {
    expect(addMonths(day(from), months)).toBe(to)
  })

  test.each([
    ['2026-02-28', -90, '2025-11-30'],
    ['2026-02-28', -30, '2026-01-29'],
    ['2026-02-28', -7, '2026-02-21'],
    ['2027-03-14', -90, '2026-12-14'],
    ['2027-03-14', -30, '2027-02-12'],
    ['2027-03-14', -7, '2027-03-07'],
  ])('%s and %i days: %s', (from, days, to) => {
    expect(addDays(day(from), days)).toBe(to)
    expect(daysBetween(day(from), day(to))).toBe(days)
  })
})

test('years are written with four digits, and end with them', () => {
  expect(addDays(day('0999-12-31'), 1)).toBe('1000-01-01')
  expect(addDays(day('1000-01-01'), -1)).toBe('0999-12-31')
  expect(addDays(day('9999-12-30'), 1)).toBe('9999-12-31')
  expect(() => addDays(day('9999-12-31'), 1)).toThrow(RangeError)
})

describe('texts and parts', () => {
  test.each([
    '2016-02-30',
    '2015-02-29',
    '2016-13-01',
    '2016-00-10',
    '2016-04-31',
    '2016-04-00',
    '16-04-01',
    'x',
    '',
  ])('no day: %s', (text) => {
    expect(parseDay(text)).toBeNull()
    expect(() => day(text)).toThrow(RangeError)
    expect(() => day(text)).toThrow(`not a calendar day: ${text}`)
  })

  test.each(['x2016-02-28', '2016-02-28x'])('more than a day: %s', (text) => {
    expect(parseDay(text)).toBeNull()
  })

  test('parts and back', () => {
    expect(partsOf(day('2016-02-29'))).toEqual({ year: 2016, month: 2, date: 29 })
    expect(dayOf(2016, 2, 29)).toBe('2016-02-29')
    expect(dayOf(987, 6, 5)).toBe('0987-06-05')
    expect(yearOf(day('2016-02-29'))).toBe(2016)
  })

  test('whole years end on the birthday', () => {
    expect(yearsBetween(day('2016-04-10'), day('2026-04-09'))).toBe(9)
    expect(yearsBetween(day('2016-04-10'), day('2026-04-10'))).toBe(10)
  })

  test('the earliest of those that are known', () => {
    expect(earliest(null, day('2026-02-01'), undefined, day('2025-12-31'))).toBe('2025-12-31')
    expect(earliest(day('2025-12-31'), day('2026-02-01'))).toBe('2025-12-31')
    expect(earliest(null, undefined)).toBeNull()
  })

  test('the latest of those that are known', () => {
    expect(latest(null, day('2025-12-31'), undefined, day('2026-02-01'))).toBe('2026-02-01')
    expect(latest(day('2026-02-01'), day('2025-12-31'))).toBe('2026-02-01')
    expect(latest(null, undefined)).toBeNull()
  })
})
