import fc from 'fast-check'
import { DateTime } from 'luxon'
import { expect, test } from 'vitest'
import { day } from '../../trade/dates.ts'
import { dayInZone, instantAt, timeInZone } from '../../server/time.ts'
import { zoneOffset } from '../../server/zone-offsets.ts'

// Against luxon, which takes its offsets from the runtime's own formatter, over fifty years.
const ZONES = [
  'America/New_York',
  'America/St_Johns',
  'America/Phoenix',
  'America/Los_Angeles',
  'Pacific/Honolulu',
  'Pacific/Kiritimati',
  'Pacific/Apia',
  'Australia/Lord_Howe',
  'Africa/Casablanca',
  'Europe/Dublin',
  'Asia/Kathmandu',
  'UTC',
] as const
const anyZone = fc.constantFrom(...ZONES)
const [FIRST, LAST] = [Date.UTC(1995, 0), Date.UTC(2045, 0)]

test('offset, day and time of day at any instant of fifty years', () => {
  fc.assert(
    fc.property(anyZone, fc.integer({ min: FIRST, max: LAST }), (zone, at) => {
      const wanted = DateTime.fromMillis(at, { zone })
      expect(zoneOffset(at, zone)).toBe(wanted.offset * 60_000)
      expect(dayInZone(new Date(at), zone)).toBe(wanted.toISODate())
      expect(timeInZone(new Date(at), zone)).toBe(wanted.toFormat('HH:mm'))
    }),
    { numRuns: 5000 },
  )
})

test('a time of day on a wall is the instant at which that wall shows it', () => {
  fc.assert(
    fc.property(
      anyZone,
      fc.integer({ min: FIRST, max: LAST }),
      fc.integer({ min: 0, max: 1439 }),
      (zone, at, minutes) => {
        const on = day(new Date(at).toISOString().slice(0, 10))
        const time = new Date(minutes * 60_000).toISOString().slice(11, 16)
        const found = instantAt(on, time, zone)
        const shown = DateTime.fromJSDate(found, { zone })
        const isInGap = shown.toFormat('yyyy-MM-dd HH:mm') !== `${on} ${time}`
        // A gap is an hour, or half of one, or the day that Samoa left out.
        if (!isInGap) return
        const before = DateTime.fromMillis(found.getTime() - 86_400_000, { zone }).offset
        expect(found.getTime()).toBe(Date.parse(`${on}T${time}Z`) - before * 60_000)
      },
    ),
    { numRuns: 5000 },
  )
})

test.each([
  // Clock changes as published for the United States: second Sunday of March, first Sunday of November, at 2:00.
  [
    '2026-03-08',
    '02:30',
    'America/New_York',
    '2026-03-08T07:30:00.000Z',
    'in the gap: the offset before counts',
  ],
  ['2026-03-08', '01:59', 'America/New_York', '2026-03-08T06:59:00.000Z', 'before the gap'],
  ['2026-03-08', '03:00', 'America/New_York', '2026-03-08T07:00:00.000Z', 'after the gap'],
  ['2026-11-01', '01:30', 'America/New_York', '2026-11-01T05:30:00.000Z', 'twice there: the first counts'],
  ['2026-11-01', '02:00', 'America/New_York', '2026-11-01T07:00:00.000Z', 'after it'],
  ['2024-02-29', '08:00', 'America/Phoenix', '2024-02-29T15:00:00.000Z', 'no clock changes in Arizona'],
  ['2026-10-04', '02:15', 'Australia/Lord_Howe', '2026-10-03T15:45:00.000Z', 'a gap of half an hour'],
])('%s %s in %s is %s: %s', (on, time, zone, wanted) => {
  expect(instantAt(day(on), time, zone).toISOString()).toBe(wanted)
})
