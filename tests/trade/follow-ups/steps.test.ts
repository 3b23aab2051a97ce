import fc from 'fast-check'
import { DateTime } from 'luxon'
import { describe, expect, test } from 'vitest'
import { addDays, type Day, day } from '../../../trade/dates.ts'
import type { Cadence } from '../../../trade/follow-ups/kind.ts'
import { cadenceOf, DEFAULT_POLICY, mannerOf, policyWith } from '../../../trade/follow-ups/policy.ts'
import { lastRepeat, nextRepeat, repeat, repeatsUntil } from '../../../trade/follow-ups/repeats.ts'
import { dayOfStep, nextNotice, noticeDue, noticeKey, opensOn } from '../../../trade/follow-ups/steps.ts'
import { dayInWords } from '../../../trade/day-in-words.ts'

const d = day
const ALARM = mannerOf('alarm-end-of-life').cadence
const INSPECTION = mannerOf('re-inspection').cadence
const DANGER = mannerOf('make-safe-check').cadence
const DUE = d('2026-02-28')

describe('the notice of today', () => {
  const step = (today: string, lastStep: string | null = null, cadence: Cadence = ALARM) =>
    noticeDue(DUE, cadence, d(today), lastStep)?.step ?? null

  test.each([
    ['2025-11-29', null],
    ['2025-11-30', '-90'],
    ['2026-01-28', '-90'],
    ['2026-01-29', '-30'],
    ['2026-02-21', '-7'],
    ['2026-02-28', '0'],
    ['2026-03-14', '+14'],
    ['2026-04-14', '+45'],
    ['2026-04-29', '+60'],
    ['2046-01-01', '+60'],
  ])('due 2026-02-28, on %s: %s', (today, expected) => {
    expect(step(today)).toBe(expected)
  })

  test('worker down from 2026-01-20 to 2026-02-25: one mail, the "7 days" one', () => {
    expect(step('2026-02-25', '-90')).toBe('-7')
    expect(step('2026-02-25', '-7')).toBeNull()
    expect(noticeDue(DUE, ALARM, d('2026-02-25'), '-90')).toEqual({
      step: '-7',
      on: '2026-02-21',
      by: ['mail'],
    })
  })

  test('given is given, also where the policy has dropped that step since', () => {
    expect(step('2026-01-29', '-30')).toBeNull()
    expect(step('2026-01-29', '-25')).toBeNull()
    expect(step('2026-01-29', '-31')).toBe('-30')
    expect(step('2026-02-28', '+3d')).toBeNull()
    expect(step('2026-02-28', 'nonsense')).toBe('0')
  })

  test('the order in which the policy lists the steps does not matter', () => {
    const shuffled: Cadence = { steps: [...ALARM.steps].reverse() }
    expect(step('2026-02-21', null, shuffled)).toBe('-7')
    expect(opensOn(DUE, shuffled)).toBe('2025-11-30')
    expect(nextNotice(DUE, shuffled, d('2026-01-01'), null)?.step).toBe('-30')
  })

  test('yearly after the last: anchored on the due date', () => {
    expect(step('2026-05-29', null, INSPECTION)).toBe('+90')
    expect(step('2027-02-27', null, INSPECTION)).toBe('+90')
    expect(step('2027-02-28', null, INSPECTION)).toBe('+12m')
    expect(step('2029-03-01', '+12m', INSPECTION)).toBe('+36m')
    expect(step('2029-03-01', '+36m', INSPECTION)).toBeNull()
    expect(noticeDue(d('2024-02-29'), INSPECTION, d('2026-06-01'), null)).toEqual({
      step: '+24m',
      on: '2026-02-28',
      by: ['mail'],
    })
  })

  test('daily after the first', () => {
    expect(step('2026-02-27', null, DANGER)).toBeNull()
    expect(step('2026-02-28', null, DANGER)).toBe('0')
    expect(step('2026-03-01', '0', DANGER)).toBe('+1d')
    expect(step('2026-03-10', '+1d', DANGER)).toBe('+10d')
  })

  test('a repeat waits for the fixed steps', () => {
    const late: Cadence = {
      steps: [{ days: 400, by: ['mail'] }],
      then: { every: 12, unit: 'months', by: ['call'] },
    }
    expect(step('2027-03-01', null, late)).toBeNull()
    expect(step('2027-04-04', null, late)).toBe('+400')
    expect(step('2028-02-28', null, late)).toBe('+24m')
  })

  test('repeats without fixed steps begin after the due date', () => {
    const only: Cadence = { steps: [], then: { every: 1, unit: 'months', by: ['call'] } }
    expect(step('2026-02-28', null, only)).toBeNull()
    expect(step('2026-03-28', null, only)).toBe('+1m')
    expect(opensOn(DUE, only)).toBe(DUE)
    expect(nextNotice(DUE, only, d('2026-01-01'), null)?.on).toBe('2026-03-28')
    expect(noticeDue(DUE, { steps: [] }, d('2027-01-01'), null)).toBeNull()
    expect(nextNotice(DUE, { steps: [] }, d('2020-01-01'), null)).toBeNull()
  })
})

describe('the next notice', () => {
  const next = (after: string, lastStep: string | null, cadence: Cadence = ALARM) =>
    nextNotice(DUE, cadence, d(after), lastStep)

  test.each([
    ['2025-01-01', null, '-90', '2025-11-30'],
    ['2025-11-30', '-90', '-30', '2026-01-29'],
    ['2026-01-01', '-7', '0', '2026-02-28'],
    ['2026-03-01', '-7', '+14', '2026-03-14'],
    ['2026-04-14', '+45', '+60', '2026-04-29'],
  ])('after %s, given %s: %s on %s', (after, lastStep, step, on) => {
    expect(next(after, lastStep)).toMatchObject({ step, on })
  })

  test('none after the last', () => {
    expect(next('2026-04-29', '+60')).toBeNull()
    expect(next('2026-04-29', null)).toBeNull()
  })

  test('repeats go on', () => {
    expect(next('2026-05-29', '+90', INSPECTION)).toEqual({ step: '+12m', on: '2027-02-28', by: ['mail'] })
    expect(next('2027-02-28', '+12m', INSPECTION)).toMatchObject({ step: '+24m', on: '2028-02-28' })
    expect(next('2026-02-28', '0', DANGER)).toEqual({ step: '+1d', on: '2026-03-01', by: ['call'] })
    expect(next('2026-03-01', '+5d', DANGER)).toMatchObject({ step: '+6d' })
  })

  test('before the due date the first repeat is still ahead', () => {
    const early: Cadence = {
      steps: [{ days: -7, by: ['mail'] }],
      then: { every: 12, unit: 'months', by: ['mail'] },
    }
    expect(next('2026-02-22', '-7', early)).toMatchObject({ step: '+12m', on: '2027-02-28' })
  })

  const anyCadence: fc.Arbitrary<Cadence> = fc.record(
    {
      steps: fc
        .uniqueArray(fc.integer({ min: -120, max: 120 }), { maxLength: 6 })
        .map((days) => days.map((each) => ({ days: each, by: ['mail'] as const }))),
      then: fc.record({
        every: fc.integer({ min: 1, max: 14 }),
        unit: fc.constantFrom('days', 'months'),
        by: fc.constant(['call'] as const),
      }),
    },
    { requiredKeys: ['steps'] },
  )

  test('walking from notice to notice gives each once, in order, and never one that is already past', () => {
    fc.assert(
      fc.property(anyCadence, fc.integer({ min: -200, max: 800 }), (cadence, offset) => {
        let today = addDays(DUE, offset)
        let last: string | null = null
        const given: Day[] = []
        for (let run = 0; run < 8; run++) {
          const notice = noticeDue(DUE, cadence, today, last)
          if (notice) {
            expect(notice.on <= today).toBe(true)
            expect(dayOfStep(DUE, notice.step)).toBe(notice.on)
            given.push(notice.on)
            last = notice.step
            expect(noticeDue(DUE, cadence, today, last)).toBeNull()
          }
          const next = nextNotice(DUE, cadence, today, last)
          if (!next) break
          expect(next.on > today).toBe(true)
          expect(noticeDue(DUE, cadence, next.on, last)).toEqual(next)
          expect(noticeDue(DUE, cadence, addDays(next.on, -1), last)).toBeNull()
          today = next.on
        }
        expect(given).toEqual([...new Set(given)].sort())
      }),
      { numRuns: 100 },
    )
  })
})

describe('keys and days of steps', () => {
  test('a key names kind, subject, due date and step', () => {
    expect(noticeKey('alarm-end-of-life', 'id-1', DUE, '-30')).toBe('alarm-end-of-life/id-1/2026-02-28/-30')
  })
  test.each([
    ['-30', '2026-01-29'],
    ['0', '2026-02-28'],
    ['+14', '2026-03-14'],
    ['+3d', '2026-03-03'],
    ['+12m', '2027-02-28'],
    ['x', null],
    ['12x', null],
    ['x12', null],
    ['', null],
  ])('%s is %s', (step, on) => {
    expect(dayOfStep(DUE, step)).toBe(on)
  })
})

describe('repeats, anchored', () => {
  test('2025-01-31 monthly: 02-28, then 03-31', () => {
    expect([1, 2].map((times) => repeat(d('2025-01-31'), 1, times))).toEqual(['2025-02-28', '2025-03-31'])
  })
  test('GF4: tested 2026-01-31, monthly: 2026-02-28, then 2026-03-31', () => {
    expect(nextRepeat(d('2026-01-31'), 1, d('2026-01-31'))).toBe('2026-02-28')
    expect(nextRepeat(d('2026-01-31'), 1, d('2026-02-28'))).toBe('2026-03-31')
    expect(nextRepeat(d('2026-01-31'), 1, d('2025-01-01'))).toBe('2026-02-28')
  })
  test.each([
    ['2025-01-31', 1, '2025-02-27', 0, null],
    ['2025-01-31', 1, '2025-02-28', 1, '2025-02-28'],
    ['2025-01-31', 3, '2026-01-30', 3, '2025-10-31'],
    ['2025-01-31', 3, '2026-01-31', 4, '2026-01-31'],
    ['2025-01-31', 12, '2024-01-01', 0, null],
  ])('from %s every %i months by %s: %i times, last %s', (anchor, months, today, times, last) => {
    expect(repeatsUntil(d(anchor), months, d(today))).toBe(times)
    expect(lastRepeat(d(anchor), months, d(today))).toBe(last)
  })
  test('against luxon: the last repeat is the last that is not in the future', () => {
    const anyDay = fc.integer({ min: 0, max: 18_000 }).map((days) => addDays(d('1990-01-01'), days))
    fc.assert(
      fc.property(
        anyDay,
        fc.integer({ min: 1, max: 36 }),
        fc.integer({ min: 0, max: 9000 }),
        (anchor, months, later) => {
          const today = addDays(anchor, later)
          const start = DateTime.fromISO(anchor, { zone: 'utc' })
          let times = 0
          while (start.plus({ months: months * (times + 1) }).toISODate()! <= today) times++
          expect(repeatsUntil(anchor, months, today)).toBe(times)
          expect(nextRepeat(anchor, months, today)).toBe(
            start.plus({ months: months * (times + 1) }).toISODate(),
          )
        },
      ),
    )
  })
})

describe('policy', () => {
  test('defaults', () => {
    expect(DEFAULT_POLICY).toEqual({
      cadences: {},
      cap: { messages: 1, days: 7 },
      sendingHours: { from: '08:00', to: '20:00' },
      groupWithinDays: 14,
      reinspection: { ownerYears: 10, rentedYears: 5, olderHomeYears: 5, olderHomeAge: 40 },
      surge: { checkMonths: 12, afterEventDays: 7, lifeYears: 10 },
      batteryMonths: 12,
      finding: {
        repairDays: 28,
        investigateDays: 28,
        improveMonths: 12,
        refusedRecheckDays: 30,
        countFoundDay: false,
      },
      makeSafeDays: 1,
      estimateDays: 7,
      noAccessDays: 1,
      tipsMonths: 3,
    })
  })
  test('a change touches what it names and nothing else', () => {
    const once: Cadence = { steps: [{ days: 1, by: ['mail'] }] }
    const changed = policyWith({
      cap: { days: 3 },
      surge: { lifeYears: 8 },
      reinspection: { rentedYears: 3 },
      finding: { repairDays: 5 },
      sendingHours: { to: '18:00' },
      tipsMonths: 6,
      cadences: { 'surge-check': once },
    })
    expect(changed).toEqual({
      ...DEFAULT_POLICY,
      cap: { messages: 1, days: 3 },
      surge: { ...DEFAULT_POLICY.surge, lifeYears: 8 },
      reinspection: { ...DEFAULT_POLICY.reinspection, rentedYears: 3 },
      finding: { ...DEFAULT_POLICY.finding, repairDays: 5 },
      sendingHours: { from: '08:00', to: '18:00' },
      tipsMonths: 6,
      cadences: { 'surge-check': once },
    })
    expect(policyWith({})).toEqual(DEFAULT_POLICY)
    const both = policyWith({ cadences: { 'alarm-battery': once } }, changed)
    expect(Object.keys(both.cadences)).toEqual(['surge-check', 'alarm-battery'])
  })
  test('a cadence of one severity, of the kind, or of the default', () => {
    const once: Cadence = { steps: [{ days: 1, by: ['mail'] }] }
    const twice: Cadence = { steps: [{ days: 2, by: ['mail'] }] }
    const policy = policyWith({ cadences: { 'open-finding': once, 'open-finding/improve': twice } })
    expect(cadenceOf(policy, 'open-finding', 'improve')).toBe(twice)
    expect(cadenceOf(policy, 'open-finding', 'repair')).toBe(once)
    expect(cadenceOf(policy, 'make-safe-check', 'improve')).toEqual(DANGER)
    expect(cadenceOf(DEFAULT_POLICY, 'alarm-end-of-life')).toEqual(ALARM)
  })
})

test('days in words, both languages', () => {
  const months = [
    'enero',
    'febrero',
    'marzo',
    'abril',
    'mayo',
    'junio',
    'julio',
    'agosto',
    'septiembre',
    'octubre',
  ]
  months.push('noviembre', 'diciembre')
  for (let month = 1; month <= 12; month++) {
    const value = d(`2026-${String(month).padStart(2, '0')}-05`)
    const date = DateTime.fromISO(value, { zone: 'utc' })
    expect(dayInWords(value, 'en')).toBe(date.setLocale('en-US').toFormat('LLLL d, yyyy'))
    expect(dayInWords(value, 'es')).toBe(`5 de ${months[month - 1]} de 2026`)
  }
})
