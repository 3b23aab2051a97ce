import fc from 'fast-check'
import { DateTime } from 'luxon'
import { describe, expect, test } from 'vitest'
import { isoWeekStart } from '../../../trade/alarms/label-layouts.ts'
import { meaningOf, monthNumber } from '../../../trade/alarms/label-words.ts'
import { type LabelContext, parseLabel, readingsOf } from '../../../trade/alarms/parse-label.ts'
import { day } from '../../../trade/dates.ts'
import { dayInWords } from '../../../trade/day-in-words.ts'

const US: LabelContext = { today: day('2026-01-15'), kindOfAlarm: 'smoke', isUs: true }

describe('one reading', () => {
  test.each([
    // Recall notices of 2018 and 1993; ISO 8601 weeks and days of the year computed.
    ['2013 Nov. 05', '2013-11-05', 'day', 'YYYY MON DD', 'recall notice of 2018'],
    ['2016 Sep. 10', '2016-09-10', 'day', 'YYYY MON DD', 'recall notice of 2018'],
    ['2017JUN09', '2017-06-09', 'day', 'YYYY MON DD', 'recall notice of 2018'],
    ['92192', '1992-07-10', 'day', 'YYDDD', 'recall notice of 1993: first sale 10 July 1992'],
    ['92231', '1992-08-18', 'day', 'YYDDD', 'recall notice of 1993'],
    ['16060', '2016-02-29', 'day', 'YYDDD', 'leap year'],
    ['15060', '2015-03-01', 'day', 'YYDDD', 'ordinary year'],
    ['16366', '2016-12-31', 'day', 'YYDDD', 'last day of a leap year'],
    ['15365', '2015-12-31', 'day', 'YYDDD', 'last day of an ordinary year'],
    ['15001', '2015-01-01', 'day', 'YYDDD', 'first day'],
    ['2016060', '2016-02-29', 'day', 'YYYYDDD', 'common practice, no source'],
    ['9228', '1992-07-06', 'week', 'YYWW', 'recall notice of 1993: weeks 28 to 46'],
    ['9246', '1992-11-09', 'week', 'YYWW', 'recall notice of 1993: weeks 28 to 46'],
    ['2015-W23', '2015-06-01', 'week', 'YYYY-Www', 'ISO 8601'],
    ['2020-W53', '2020-12-28', 'week', 'YYYY-Www', 'ISO 8601'],
    ['2020-W01', '2019-12-30', 'week', 'YYYY-Www', 'ISO 8601: week 1 may begin in December'],
    ['2016 WEEK 12', '2016-03-21', 'week', 'YYYY-Www', 'common practice, no source'],
    ['06/2015', '2015-06-01', 'month', 'MM/YYYY', 'common practice, no source'],
    ['2015/06', '2015-06-01', 'month', 'YYYY/MM', 'common practice, no source'],
    ['06-15', '2015-06-01', 'month', 'MM/YY', 'common practice, no source'],
    ['Sept 2019', '2019-09-01', 'month', 'MON YYYY', 'common practice, no source'],
    ['2019 SEPTEMBER', '2019-09-01', 'month', 'MON YYYY', 'common practice, no source'],
    ['20160229', '2016-02-29', 'day', 'YYYYMMDD', 'ISO 8601 basic form'],
    ['2016.2.29', '2016-02-29', 'day', 'YYYY-MM-DD', 'common practice, no source'],
    ['June 9, 2017', '2017-06-09', 'day', 'MON DD YYYY', 'common practice, no source'],
    ['9 MAR 18', '2018-03-09', 'day', 'DD MON YYYY', 'common practice, no source'],
    ['12/31/2016', '2016-12-31', 'day', 'MM/DD/YYYY', 'only one order fits'],
    ['31.12.2016', '2016-12-31', 'day', 'DD/MM/YYYY', 'only one order fits'],
  ])('%s is %s (%s, %s; %s)', (text, expected, precision, layout) => {
    const label = parseLabel(text, US)
    expect(label.ambiguous).toBe(false)
    expect(label.readings).toHaveLength(1)
    expect(label.chosen).toEqual({
      day: expected,
      precision,
      layout,
      meaning: 'manufacture',
      text: text.toUpperCase(),
    })
    expect(label.earliest).toEqual(label.chosen)
    expect(label.text).toBe(text)
    expect(label.why).toBe(
      `${text.toUpperCase()} read as ${dayInWords(day(expected), 'en')}, to the ${precision}.`,
    )
  })

  test.each([
    ['JAN', 1],
    ['FEB', 2],
    ['MAR', 3],
    ['APR', 4],
    ['MAY', 5],
    ['JUN', 6],
    ['JUL', 7],
    ['AUG', 8],
    ['SEP', 9],
    ['OCT', 10],
    ['NOV', 11],
    ['DEC', 12],
  ])('%s is month %i', (name, month) => {
    expect(monthNumber(name)).toBe(month)
    const two = String(month).padStart(2, '0')
    expect(parseLabel(`2015 ${name} 07`, US).chosen?.day).toBe(`2015-${two}-07`)
  })

  test.each([
    'JANUARY',
    'FEBRUARY',
    'MARCH',
    'APRIL',
    'JUNE',
    'JULY',
    'AUGUST',
    'SEPT',
    'SEPTEMBER',
    'OCTOBER',
  ])('a month may stand whole: %s', (name) => {
    expect(parseLabel(`${name} 7 2015`, US).chosen?.day).toBe(
      `2015-${String(monthNumber(name)).padStart(2, '0')}-07`,
    )
  })
})

describe('several readings', () => {
  test('2315 is week 15 of 2023 or week 23 of 2015: ask, and count from the earlier', () => {
    const label = parseLabel('2315', US)
    expect(label.readings.map(({ day, layout }) => [day, layout])).toEqual([
      ['2015-06-01', 'WWYY'],
      ['2023-04-10', 'YYWW'],
    ])
    expect(label.chosen).toBeNull()
    expect(label.earliest?.day).toBe('2015-06-01')
    expect(label.ambiguous).toBe(true)
    expect(label.why).toBe(
      'Can mean June 1, 2015 (WWYY) or April 10, 2023 (YYWW): choose what the label says. The earliest counts until then.',
    )
  })

  test('1215 fits three ways, and 2015 may be a plain year', () => {
    expect(parseLabel('1215', US).readings.map(({ layout }) => layout)).toEqual(['YYWW', 'WWYY', 'MMYY'])
    expect(parseLabel('2015', US).readings.map(({ day, layout }) => `${day} ${layout}`)).toEqual([
      '2015-01-01 YYYY',
      '2015-05-11 WWYY',
      '2020-04-06 YYWW',
    ])
  })

  test('a slash date reads month first in the United States and is flagged', () => {
    const label = parseLabel('03/04/2016', US)
    expect(label.chosen).toMatchObject({ day: '2016-03-04', layout: 'MM/DD/YYYY' })
    expect(label.ambiguous).toBe(true)
    expect(label.why).toBe('03/04/2016 read month first, March 4, 2016, as is usual here: please confirm.')
    expect(parseLabel('04/03/2016', US)).toMatchObject({
      chosen: { day: '2016-04-03' },
      earliest: { day: '2016-03-04' },
    })
  })

  test.each([null, false])('elsewhere (%s) it is asked for', (isUs) => {
    const label = parseLabel('03/04/2016', { ...US, isUs })
    expect(label.chosen).toBeNull()
    expect(label.earliest?.day).toBe('2016-03-04')
  })

  test('both orders on the same day are one reading in effect', () => {
    expect(parseLabel('04/04/16', US)).toMatchObject({ ambiguous: false, chosen: { day: '2016-04-04' } })
  })

  test('two dates of one meaning are ambiguous even month first', () => {
    const label = parseLabel('03/04/2016 05/06/2017', US)
    expect(label.chosen).toBeNull()
    expect(label.earliest?.day).toBe('2016-03-04')
  })
})

describe('what cannot be', () => {
  test.each([
    ['2016 Feb. 30', '2016 FEB. 30', 'no such day in the calendar'],
    ['15366', '15366', 'no such day in the calendar'],
    ['15000', '15000', 'no such day in the calendar'],
    ['2021-W53', '2021-W53', 'no such day in the calendar'],
    ['2021-W00', '2021-W00', 'no such day in the calendar'],
    ['13/2015', '13/2015', 'no such day in the calendar'],
    ['00/2015', '00/2015', 'no such day in the calendar'],
    ['2015-00-07', '2015-00-07', 'no such day in the calendar'],
    ['2015-01-00', '2015-01-00', 'no such day in the calendar'],
    ['MFD 2027-01-01', '2027-01-01', 'in the future'],
    ['2026-01-16', '2026-01-16', 'in the future'],
    ['1979-12-31', '1979-12-31', 'before 1980'],
    ['Replace by 2060-01-01', '2060-01-01', 'too far ahead'],
  ])('%s is refused: %s, %s', (text, part, why) => {
    const label = parseLabel(text, US)
    expect(label.readings).toEqual([])
    expect(label.chosen).toBeNull()
    expect(label.earliest).toBeNull()
    expect(label.ambiguous).toBe(false)
    expect(label.rejected).toEqual([{ text: part, why }])
    expect(label.why).toBe(`No date can be read (${part}: ${why}).`)
  })

  test.each(['', 'model only', '123456789', '123'])('%s holds no date', (text) => {
    const label = parseLabel(text, US)
    expect(label.rejected).toEqual([])
    expect(label.why).toBe('No date can be read.')
  })

  test('today, and the first day of 1980, can be', () => {
    expect(parseLabel('2026-01-15', US).chosen?.day).toBe('2026-01-15')
    expect(parseLabel('1980-01-01', US).chosen?.day).toBe('1980-01-01')
    expect(parseLabel('Replace by 2056-01-15', US).chosen?.day).toBe('2056-01-15')
  })

  test('digits inside longer digits are no date', () => {
    expect(parseLabel('S/N 0092192 1', US).readings.map(({ day }) => day)).not.toContain('1992-07-10')
  })
})

describe('what a date means', () => {
  test.each([
    ['Replace by 06/28', '2028-06-01', 'replace-by'],
    ['EXP 2028-06', '2028-06-01', 'replace-by'],
    ['Replacement date 2028-06-01', '2028-06-01', 'replace-by'],
    ['End of life: 2028-06-01', '2028-06-01', 'replace-by'],
    ['use by 2028-06-01', '2028-06-01', 'replace-by'],
    ['good until 2028-06-01', '2028-06-01', 'replace-by'],
    ['Discard after 2020-06-01', '2020-06-01', 'replace-by'],
    ['replace before 2028-06-01', '2028-06-01', 'replace-by'],
    ['end of service 2028-06-01', '2028-06-01', 'replace-by'],
    ['Date of manufacture 2018-06-01', '2018-06-01', 'manufacture'],
    ['MFG 2018-06-01', '2018-06-01', 'manufacture'],
    ['made 2018-06-01', '2018-06-01', 'manufacture'],
    ['DOM 2018-06-01', '2018-06-01', 'manufacture'],
    ['Production 2018-06-01', '2018-06-01', 'manufacture'],
    ['Date 2018-06-01', '2018-06-01', 'manufacture'],
    ['2018-06-01', '2018-06-01', 'manufacture'],
    ['Install date 2018-06-01', '2018-06-01', 'installed'],
    ['in service 2018-06-01', '2018-06-01', 'installed'],
    ['fitted 2018-06-01', '2018-06-01', 'installed'],
    ['2018-06-01 installed', '2018-06-01', 'installed'],
    ['2028-06-01 expires', '2028-06-01', 'replace-by'],
  ])('%s: %s, %s', (text, expected, meaning) => {
    expect(parseLabel(text, US).chosen).toMatchObject({ day: expected, meaning })
  })

  test('a fire-test firm’s guide: a bare date on a smoke alarm is never its end', () => {
    expect(parseLabel('2028-06-01', US).readings).toEqual([])
    expect(parseLabel('2028-06-01', { ...US, kindOfAlarm: 'smoke-and-co' }).readings).toEqual([])
    expect(parseLabel('2028-06-01', { ...US, kindOfAlarm: null }).readings).toEqual([])
  })

  test('a bare date ahead on a CO alarm can only be its end', () => {
    const co: LabelContext = { ...US, kindOfAlarm: 'co' }
    expect(parseLabel('2028-06-01', co).chosen).toMatchObject({ meaning: 'replace-by' })
    expect(parseLabel('2018-06-01', co).chosen).toMatchObject({ meaning: 'manufacture' })
    expect(parseLabel('Mfd 2028-06-01', co).readings).toEqual([])
  })

  test('both dates of one label, each with its own words', () => {
    const label = parseLabel('Mfd 2015 JUN 09  Replace by 2025 JUN 09', US)
    expect(label.readings.map(({ day, meaning }) => [day, meaning])).toEqual([
      ['2015-06-09', 'manufacture'],
      ['2025-06-09', 'replace-by'],
    ])
    expect(label.ambiguous).toBe(false)
    expect(label.chosen?.day).toBe('2015-06-09')
    expect(readingsOf(label, 'replace-by', US).chosen?.day).toBe('2025-06-09')
    expect(readingsOf(label, 'installed', US)).toEqual({ chosen: null, earliest: null, ambiguous: false })
  })

  test('words after the first of two dates belong to the second', () => {
    const label = parseLabel('2015-06-09 replace by 2025-06-09', US)
    expect(label.readings.map(({ meaning }) => meaning)).toEqual(['manufacture', 'replace-by'])
  })

  test('no words, no meaning', () => {
    expect(meaningOf('MODEL')).toBeNull()
    expect(meaningOf('RANDOMLY')).toBeNull()
  })
})

describe('two-digit years', () => {
  test.each([
    ['26001', '2026-01-01'],
    ['27001', undefined],
    ['80001', '1980-01-01'],
    ['99001', '1999-01-01'],
    ['00001', '2000-01-01'],
  ])('a date of manufacture never lies ahead: %s is %s', (text, expected) => {
    expect(parseLabel(text, US).chosen?.day).toBe(expected)
  })

  test.each([
    ['exp 06/30', '2030-06-01'],
    ['exp 06/79', undefined],
    ['exp 06/80', '1980-06-01'],
  ])('an end may: %s is %s', (text, expected) => {
    expect(parseLabel(text, US).chosen?.day).toBe(expected)
  })
})

test('weeks against luxon: 2000 to 2030', () => {
  for (let year = 2000; year <= 2030; year++) {
    for (let week = 0; week <= 54; week++) {
      const expected = DateTime.fromObject({ weekYear: year, weekNumber: week, weekday: 1 }, { zone: 'utc' })
      expect(isoWeekStart(year, week)).toBe(expected.isValid ? expected.toISODate() : null)
    }
  }
})

describe('for any label', () => {
  const anyLabel = fc.oneof(
    fc.string({ maxLength: 60 }),
    fc.stringMatching(/^[0-9 ./A-Z-]{0,30}$/),
    fc
      .array(fc.constantFrom('2015', 'W', '-', '/', ' ', 'JUN', '23', '9999', '00', 'exp'), { maxLength: 9 })
      .map((parts) => parts.join('')),
  )

  test('reading never throws, and every reading can be true', () => {
    fc.assert(
      fc.property(
        anyLabel,
        fc.constantFrom('smoke', 'co', 'smoke-and-co', 'heat', null),
        (text, kindOfAlarm) => {
          const label = parseLabel(text, { ...US, kindOfAlarm })
          expect(label.text).toBe(text)
          for (const reading of label.readings) {
            expect(reading.day >= '1980-01-01').toBe(true)
            if (reading.meaning !== 'replace-by') expect(reading.day <= US.today).toBe(true)
          }
          const days = label.readings.map(({ day }) => day)
          expect(days).toEqual([...days].sort())
          if (label.chosen && !label.ambiguous) expect(label.earliest).toEqual(label.chosen)
        },
      ),
      { numRuns: 500 },
    )
  })
})
