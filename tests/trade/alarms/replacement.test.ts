import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { type AlarmAge, ageOf, alarmReplacement } from '../../../trade/alarms/replacement.ts'
import {
  endOfLifeSignalExpected,
  judgeReplacement,
  replacementRule,
} from '../../../trade/alarms/replacement-rule.ts'
import { addDays, addYears, day } from '../../../trade/dates.ts'
import { dayInWords } from '../../../trade/day-in-words.ts'
import { context, d, device, home, TODAY } from './build.ts'

const UNKNOWN: AlarmAge = {
  senses: null,
  manufacturedOn: null,
  installedOn: null,
  labelText: null,
  makerLifeYears: null,
  coLifeYears: null,
}
const age = (more: Partial<AlarmAge>): AlarmAge => ({ ...UNKNOWN, ...more })
const due = (more: Partial<AlarmAge>, today = TODAY) => alarmReplacement(age(more), today)

describe('smoke alarms: NFPA 72-2013 §14.4.7.1, ten years from manufacture', () => {
  test.each<[string, number | null, string, string]>([
    ['2015-06-30', null, '2025-06-30', 'SA1'],
    ['2016-02-29', null, '2026-02-28', 'SA2'],
    ['2018-03-01', 8, '2026-03-01', 'SA4: 527 CMR 1.00, the shorter life'],
    ['2018-03-01', 12, '2028-03-01', 'a longer life does not lengthen'],
  ])('made %s, maker life %s: by %s (%s)', (made, makerLifeYears, expected) => {
    const found = due({ senses: 'smoke', manufacturedOn: d(made), makerLifeYears })
    expect(found).toMatchObject({ replaceBy: expected, assumed: false })
    const years = Math.min(10, makerLifeYears ?? 10)
    expect(found.why).toBe(
      `Made ${dayInWords(day(made), 'en')}; a smoke alarm serves ${years} years from manufacture.`,
    )
    expect(found.references).toEqual([expect.objectContaining({ code: 'NFPA 72', article: '14.4.7.1' })])
  })

  test.each([
    ['2017JUN09', '2027-06-09', false],
    ['06/2015', '2025-06-01', false],
    ['2315', '2025-06-01', true],
    ['03/04/2016', '2026-03-04', true],
    ['Replace by 2027-03-01', '2027-03-01', false],
    ['Mfd 2018-01-01 Replace by 2026-12-31', '2026-12-31', false],
    ['Mfd 2018-01-01 Replace by 2029-12-31', '2028-01-01', false],
  ])('label %s: by %s, assumed %s', (labelText, replaceBy, assumed) => {
    expect(due({ senses: 'smoke', labelText })).toMatchObject({ replaceBy, assumed })
  })

  test('with the date entered the label still tells its printed end', () => {
    const found = due({
      senses: 'smoke',
      labelText: 'replace by 2026-12-31',
      manufacturedOn: d('2018-01-01'),
    })
    expect(found.replaceBy).toBe('2026-12-31')
  })

  test('a date that was entered beats an ambiguous label', () => {
    const found = due({ senses: 'smoke', labelText: '2315', manufacturedOn: d('2023-04-10') })
    expect(found).toMatchObject({ replaceBy: '2033-04-10', assumed: false })
  })

  test.each<[Partial<AlarmAge>, string]>([
    [{}, 'nothing known'],
    [{ labelText: 'scratched' }, 'unreadable'],
    [{ installedOn: d('2022-01-01') }, 'age runs from manufacture, so the day of fitting tells nothing'],
    [{ installedOn: d('2022-01-01'), makerLifeYears: 10 }, 'nor does it with a stated life'],
    [{ manufacturedOn: d('2026-01-16') }, 'made tomorrow'],
    [{ labelText: 'installed 2022-01-01' }, 'only the day of fitting on the label'],
  ])('SA3, Massachusetts DFS: no date, so past its life: %j (%s)', (more) => {
    const found = due({ senses: 'smoke', ...more })
    expect(found.replaceBy).toBeNull()
    expect(found.assumed).toBe(true)
    expect(found.why).toContain('Age of the smoke alarm unknown')
    expect(found.references[0]?.code).toBe('Massachusetts DFS')
  })

  test('made today counts', () => {
    expect(due({ senses: 'smoke', manufacturedOn: TODAY }).replaceBy).toBe('2036-01-15')
  })

  test('never later than ten years from manufacture, whatever else is written', () => {
    fc.assert(
      fc.property(
        fc.constantFrom('smoke', 'smoke-and-co'),
        fc.integer({ min: 0, max: 15_000 }),
        fc.option(fc.integer({ min: 1, max: 20 }), { nil: null }),
        fc.option(fc.integer({ min: 1, max: 20 }), { nil: null }),
        fc.string({ maxLength: 20 }),
        (senses, daysAgo, makerLifeYears, coLifeYears, labelText) => {
          const made = addDays(TODAY, -daysAgo)
          const found = due({ senses, manufacturedOn: made, makerLifeYears, coLifeYears, labelText })
          expect(found.replaceBy! <= addYears(made, 10)).toBe(true)
        },
      ),
    )
  })
})

describe('carbon monoxide: label, stated life, else assumed', () => {
  test.each<[string | null, string, number | null, string, boolean, string]>([
    ['replace by 2027-05-01', '2008-11-03', 7, '2027-05-01', false, 'a printed end comes first'],
    [null, '2019-05-01', 7, '2026-05-01', false, 'then manufacture and the printed life'],
    [null, '2008-11-03', null, '2013-11-03', true, 'CO7: made before August 2009, five years'],
    [null, '2012-01-31', null, '2019-01-31', true, 'CO8: later, seven years'],
    [null, '2009-07-31', null, '2014-07-31', true, 'last day of the older kind'],
    [null, '2009-08-01', null, '2016-08-01', true, 'first day of the newer kind'],
  ])(
    'label %s, made %s, life %s: by %s, assumed %s (%s)',
    (labelText, made, coLifeYears, replaceBy, assumed) => {
      const found = due({ senses: 'co', labelText, manufacturedOn: d(made), coLifeYears })
      expect(found).toMatchObject({ replaceBy, assumed })
      expect(found.references).toEqual([expect.objectContaining({ code: 'UL 2034' })])
    },
  )

  test('a bare date ahead is its end, also where the date of manufacture was entered', () => {
    const found = due({
      senses: 'co',
      labelText: '2027-05-01',
      manufacturedOn: d('2019-05-01'),
      coLifeYears: 10,
    })
    expect(found).toMatchObject({ replaceBy: '2027-05-01', assumed: false })
  })

  test('the life of the unit counts for its sensor', () => {
    const found = due({ senses: 'co', manufacturedOn: d('2020-05-01'), makerLifeYears: 10 })
    expect(found).toMatchObject({ replaceBy: '2030-05-01', assumed: false })
    expect(found.why).toBe('Made May 1, 2020; its maker states 10 years for the CO sensor.')
  })

  test('fitted and a stated life, only without a date of manufacture', () => {
    const fitted = { senses: 'co', installedOn: d('2021-02-01'), coLifeYears: 7 } as const
    const found = due(fitted)
    expect(found).toMatchObject({ replaceBy: '2028-02-01', assumed: false })
    expect(found.why).toContain('Fitted February 1, 2021, date of manufacture unknown')
    expect(due({ ...fitted, manufacturedOn: d('2020-02-01') }).replaceBy).toBe('2027-02-01')
    expect(due({ senses: 'co', labelText: 'installed 2021-02-01', coLifeYears: 7 }).replaceBy).toBe(
      '2028-02-01',
    )
  })

  test.each([{}, { installedOn: d('2021-02-01') }, { coLifeYears: 7 }])(
    'nothing to count from: %j',
    (more) => {
      const found = due({ senses: 'co', ...more })
      expect(found.replaceBy).toBeNull()
      expect(found.why).toContain('Age of the CO alarm unknown')
    },
  )

  test('an ambiguous label stays assumed also with a stated life', () => {
    expect(due({ senses: 'co', labelText: '2315', coLifeYears: 7 })).toMatchObject({
      replaceBy: '2022-06-01',
      assumed: true,
    })
  })

  test('UL 2034 assumed lives are told as such', () => {
    expect(due({ senses: 'co', manufacturedOn: d('2012-01-31') }).why).toBe(
      'Made January 31, 2012; no life printed, 7 years assumed for the CO sensor.',
    )
  })
})

describe('combination and heat', () => {
  test('CO4: made 2019-05-01, CO life 7 years: 2026-05-01, not 2029', () => {
    const found = due({ senses: 'smoke-and-co', manufacturedOn: d('2019-05-01'), coLifeYears: 7 })
    expect(found).toMatchObject({ replaceBy: '2026-05-01', assumed: false })
    expect(found.references.map(({ code }) => code)).toEqual(['NFPA 72', 'UL 2034'])
    expect(found.why).toContain('CO sensor')
  })

  test('the smoke sensor may end first', () => {
    const found = due({ senses: 'smoke-and-co', manufacturedOn: d('2019-05-01'), coLifeYears: 12 })
    expect(found).toMatchObject({ replaceBy: '2029-05-01', assumed: false })
    expect(found.why).toContain('a smoke alarm serves 10 years')
  })

  test('one half of unknown age makes the whole unknown', () => {
    const found = due({ senses: 'smoke-and-co', installedOn: d('2021-02-01'), coLifeYears: 7 })
    expect(found.replaceBy).toBeNull()
    expect(found.why).toContain('smoke alarm unknown')
    expect(due({ senses: 'smoke-and-co' }).replaceBy).toBeNull()
  })

  test('a printed end holds for both halves', () => {
    const found = due({ senses: 'smoke-and-co', labelText: 'replace by 2027-05-01' })
    expect(found).toMatchObject({ replaceBy: '2027-05-01', assumed: false })
    expect(found.why).toBe('The label says to replace it by May 1, 2027.')
  })

  test.each([
    [null, '2028-03-01', true, '10 years assumed for'],
    [15, '2033-03-01', false, '15 years stated by the maker of'],
  ])(
    'heat, maker life %s: by %s, assumed %s (common practice)',
    (makerLifeYears, replaceBy, assumed, words) => {
      const found = due({ senses: 'heat', manufacturedOn: d('2018-03-01'), makerLifeYears })
      expect(found).toMatchObject({ replaceBy, assumed })
      expect(found.why).toContain(words)
    },
  )

  test('heat: printed end, and nothing known', () => {
    expect(due({ senses: 'heat', labelText: 'exp 2030-01-01' }).replaceBy).toBe('2030-01-01')
    expect(due({ senses: 'heat' })).toMatchObject({ replaceBy: null, assumed: true })
    expect(due({ senses: 'heat' }).why).toContain('heat alarm unknown')
  })

  test('what it senses is not known: the strictest kind, assumed', () => {
    const found = due({ manufacturedOn: d('2019-05-01') })
    expect(found).toMatchObject({ replaceBy: '2026-05-01', assumed: true })
    expect(found.why).toContain('What it senses is not written down. Made May 1, 2019')
  })
})

describe('end-of-life signal of CO alarms', () => {
  test.each([
    ['2009-08-01', 'must'],
    ['2009-07-31', 'may'],
    ['2008-11-03', 'may'],
    ['2007-04-01', 'may'],
    ['2007-03-31', 'no'],
  ])('UL 2034 (2008-02-28) and NC fire marshal: made %s: %s', (made, expected) => {
    expect(endOfLifeSignalExpected(day(made))).toBe(expected)
  })
  test('unknown', () => expect(endOfLifeSignalExpected(null)).toBe('unknown'))
})

describe('verdict', () => {
  const judge = (more: Partial<AlarmAge>, today: string, endOfLifeSounding: boolean | null = null) =>
    judgeReplacement(
      { ...age({ senses: 'smoke', ...more }), endOfLifeSounding },
      context('2023', '2023', { today: d(today) }),
    )
  const SA1 = { manufacturedOn: d('2015-06-30') }

  test.each([
    ['2025-07-01', 'finding', 'repair', -1, 'Overdue since June 30, 2025'],
    ['2025-06-30', 'finding', 'watch', 0, 'Due by June 30, 2025'],
    ['2024-06-30', 'finding', 'watch', 365, 'Due by June 30, 2025'],
    ['2024-06-29', 'sound', undefined, 366, 'Good until June 30, 2025'],
  ])('SA1 made 2015-06-30, on %s: %s %s, %i days', (today, outcome, severity, days, words) => {
    const verdict = judge(SA1, today)
    expect(verdict).toMatchObject({
      rule: 'alarms.replacement',
      outcome,
      figures: [{ label: 'Days left', value: days, unit: 'days' }],
      inputs: { replaceBy: '2025-06-30', assumed: false },
      requiredWhenBuilt: 'yes',
      requiredToday: 'yes',
    })
    if (verdict.outcome === 'finding') expect(verdict.severity).toBe(severity)
    expect(verdict.technician).toContain(words)
    expect(verdict.references[0]).toMatchObject({ code: 'NFPA 72', edition: '2013', article: '14.4.7.1' })
  })

  test('NFPA 72 §14.4.7.1 as read by fire services: dated March 2015, seen January 2026', () => {
    expect(judge({ labelText: '03/2015' }, '2026-01-15')).toMatchObject({
      outcome: 'finding',
      severity: 'repair',
      inputs: { replaceBy: '2025-03-01' },
    })
  })

  test('SA3: no date is a finding, never undetermined', () => {
    const verdict = judge({}, '2026-01-15')
    expect(verdict).toMatchObject({ outcome: 'finding', severity: 'repair', figures: [] })
    expect(verdict.homeowner).toContain('how old this alarm is')
  })

  test('the alarm says itself that it is worn out', () => {
    const verdict = judge({ manufacturedOn: d('2025-06-30') }, '2026-01-15', true)
    expect(verdict).toMatchObject({ outcome: 'finding', severity: 'repair' })
    expect(verdict.technician).toContain('End-of-life signal')
  })

  test('inputs are taken from the record', () => {
    const alarm = device(
      'alarm',
      { senses: 'co', labelText: '2315', makerLifeYears: 9, coLifeYears: 7, endOfLifeSounding: true },
      { manufacturedOn: d('2020-01-01'), installedOn: d('2020-02-01') },
    )
    expect(replacementRule.inputs(alarm, home([], [alarm]))).toEqual({
      senses: 'co',
      labelText: '2315',
      makerLifeYears: 9,
      coLifeYears: 7,
      manufacturedOn: '2020-01-01',
      installedOn: '2020-02-01',
      endOfLifeSounding: true,
    })
    expect(ageOf(device('alarm', {}))).toEqual(UNKNOWN)
    expect(replacementRule.inputs(device('alarm', {}), home([])).endOfLifeSounding).toBeNull()
  })
})
