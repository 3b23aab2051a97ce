import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { day } from '../../trade/dates.ts'
import { type Amendment, EDITIONS, type RuleContext } from '../../trade/editions.ts'
import {
  clocksOf,
  NEWEST_EDITION,
  type Requirement,
  rowIn,
  strictest,
  uniqueReferences,
  valueIn,
} from '../../trade/requirement.ts'
import { under } from './overcurrent/verdicts.ts'

const requirement: Requirement = {
  keys: ['bath', 'bath/sink'],
  rows: [
    { since: '1971', effectiveOn: day('1974-01-01'), required: true, article: '210-8', source: 'x' },
    { since: '1987', required: false, article: '210-8', row: 'only in reach', source: 'x' },
    { since: '1996', required: true, article: '210.8', source: 'x' },
  ],
  before: 'no',
}
const clocks = (...given: Parameters<typeof under>) => clocksOf(requirement, under(...given))
const change = (effect: Amendment['effect'], from: string, requirement = 'bath'): Amendment => ({
  requirement,
  effect,
  from: day(from),
  source: 'Port Ansel 12-3',
})

describe('both clocks of a requirement', () => {
  test.each([
    ['1968', 'no'],
    // Built under an edition that was in force before and after its delayed rule: nobody can tell.
    ['1971', 'unknown'],
    ['1975', 'yes'],
    ['1984', 'yes'],
    ['1987', 'no'],
    ['1993', 'no'],
    ['1996', 'yes'],
    ['2023', 'yes'],
    [null, 'unknown'],
  ] as const)('built under %s: %s', (built, whenBuilt) => {
    expect(clocks('2023', built)).toMatchObject({ whenBuilt, today: 'yes' })
  })
  test('an edition in force today whose rule has not taken effect asks for nothing yet', () => {
    const context = { ...under('1971', '1971'), today: day('1973-12-31') }
    expect(clocksOf(requirement, context)).toMatchObject({ today: 'no', whenBuilt: 'no' })
    expect(clocksOf(requirement, { ...context, today: day('1974-01-01') })).toMatchObject({ today: 'yes' })
    // It is printed, so what older editions asked does not matter.
    expect(clocksOf({ ...requirement, before: 'unknown' }, context).today).toBe('no')
  })
  test('older editions than the first row answer what the requirement says of them', () => {
    expect(clocksOf({ ...requirement, before: 'unknown' }, under('1968', '1968'))).toMatchObject({
      whenBuilt: 'unknown',
      today: 'unknown',
    })
  })
  test('references name each edition that asks; where none does, where it would first be asked', () => {
    expect(clocks('2023', '1984').references).toEqual([
      { code: 'NFPA 70', edition: '1984', article: '210-8' },
      { code: 'NFPA 70', edition: '2023', article: '210.8' },
    ])
    expect(clocks('2023', '2023').references).toEqual([
      { code: 'NFPA 70', edition: '2023', article: '210.8' },
    ])
    expect(clocks('1987', '1987').references).toEqual([
      { code: 'NFPA 70', edition: '1987', article: '210-8', row: 'only in reach' },
      { code: 'NFPA 70', edition: '1971', article: '210-8' },
    ])
    expect(clocks(null).references).toEqual([{ code: 'NFPA 70', edition: '1971', article: '210-8' }])
    expect(clocks(null, '1984')).toMatchObject({ today: 'unknown', whenBuilt: 'yes' })
    const never = { ...requirement, rows: requirement.rows.slice(1) }
    expect(clocksOf(never, under('1984', '1984')).references).toEqual([
      { code: 'NFPA 70', edition: '1996', article: '210.8' },
    ])
  })
  test('another code is cited without an edition of NFPA 70', () => {
    expect(clocksOf({ ...requirement, code: 'NFPA 54' }, under('2023')).references).toEqual([
      { code: 'NFPA 54', article: '210.8' },
    ])
  })
})

describe('local changes', () => {
  test.each([
    ['remove', '2024-01-01', 'no'],
    ['remove', '2026-03-02', 'no'],
    ['remove', '2026-03-03', 'yes'],
    ['postpone', '2026-03-03', 'no'],
    ['postpone', '2026-03-02', 'yes'],
  ] as const)('%s from %s on a required matter: today %s', (effect, from, today) => {
    expect(clocks('2023', '1968', [change(effect, from)])).toMatchObject({ today, whenBuilt: 'no' })
  })
  test.each([
    ['add', '2024-01-01', 'yes'],
    ['add', '2026-03-03', 'no'],
    ['postpone', '2027-01-01', 'no'],
  ] as const)('%s from %s on a matter not required: today %s', (effect, from, today) => {
    expect(clocks('1993', null, [change(effect, from)])).toMatchObject({ today })
  })
  test('a change settles what an unknown edition leaves open', () => {
    expect(clocks(null, null, [change('add', '2024-01-01')]).today).toBe('yes')
    expect(clocks(null, null, [change('remove', '2024-01-01')]).today).toBe('no')
    expect(clocks(null, null, [change('postpone', '2027-01-01')]).today).toBe('no')
  })
  test('any of the keys counts, others do not', () => {
    expect(clocks('2023', null, [change('remove', '2024-01-01', 'bath/sink')]).today).toBe('no')
    expect(clocks('2023', null, [change('remove', '2024-01-01', 'kitchen')]).today).toBe('yes')
  })
  test('the change cited is the one that decided', () => {
    const { references } = clocks('1993', '1968', [change('add', '2024-01-01')])
    expect(references).toEqual([{ code: 'Port Ansel 12-3', row: 'local change adds this from 2024-01-01' }])
    expect(clocks('2023', '1968', [change('remove', '2024-01-01')]).references).toEqual([
      { code: 'Port Ansel 12-3', row: 'local change drops this from 2024-01-01' },
      { code: 'NFPA 70', edition: '1971', article: '210-8' },
    ])
    expect(clocks('2023', '1968', [change('postpone', '2027-01-01')]).references[0]).toEqual({
      code: 'Port Ansel 12-3',
      row: 'local change puts this off to 2027-01-01',
    })
  })
  test('the later of two changes wins; of one day the stricter; a postponement overrides both', () => {
    const both = [change('add', '2024-01-01'), change('remove', '2025-01-01')]
    expect(clocks('1993', null, both).today).toBe('no')
    expect(clocks('1993', null, [change('remove', '2024-01-01'), change('add', '2025-01-01')]).today).toBe(
      'yes',
    )
    expect(clocks('1993', null, [change('add', '2024-01-01'), change('remove', '2024-01-01')]).today).toBe(
      'yes',
    )
    expect(clocks('2023', null, [change('add', '2024-01-01'), change('postpone', '2027-01-01')]).today).toBe(
      'no',
    )
  })
  test('of two postponements the longer is cited; where nothing is asked there is none', () => {
    const twice = [change('postpone', '2028-01-01'), change('postpone', '2027-01-01')]
    for (const list of [twice, twice.toReversed()]) {
      expect(clocks('2023', '1968', list).references[0]!.row).toMatch(/2028-01-01/)
      expect(clocks('1990', '1990', list).references.map((each) => each.code)).not.toContain(
        'Port Ansel 12-3',
      )
    }
  })
  test('what was asked for only in between leaves that clock unknown too', () => {
    const between = (first: string, last: string) =>
      clocks('2023', '1993', [change('add', first), change('remove', last)]).whenBuilt
    expect(between('2001-01-01', '2003-01-01')).toBe('unknown')
    // In force from 1992 to 2013 at most.
    expect(between('1990-01-01', '1991-06-01')).toBe('no')
    expect(between('2014-01-01', '2015-01-01')).toBe('no')
  })
  test('a change within the years of the building edition leaves that clock unknown', () => {
    expect(clocks('2023', '2020', [change('remove', '2021-11-01')]).whenBuilt).toBe('unknown')
    expect(clocks('2023', '2020', [change('remove', '2018-12-31')]).whenBuilt).toBe('no')
    expect(clocks('2023', '2020', [change('remove', '2019-01-01')]).whenBuilt).toBe('no')
    expect(clocks('2023', '2020', [change('remove', '2019-01-02')]).whenBuilt).toBe('unknown')
    // An edition of long ago is not touched by a change of today.
    expect(clocks('2023', '1996', [change('remove', '2024-01-01')]).whenBuilt).toBe('yes')
    expect(clocks('2023', '1996', [change('remove', '2016-12-31')]).whenBuilt).toBe('unknown')
    expect(clocks('2023', '1996', [change('remove', '2017-01-01')]).whenBuilt).toBe('yes')
    // Built under the edition of today, it may have been built yesterday.
    expect(clocks('1996', '1996', [change('remove', '2024-01-01')]).whenBuilt).toBe('unknown')
  })
  test('a postponement reaches homes built under its own edition, not those of long before', () => {
    expect(clocks('2023', '2023', [change('postpone', '2027-01-01')]).whenBuilt).toBe('no')
    expect(clocks('2023', '2023', [change('postpone', '2031-01-01')]).whenBuilt).toBe('no')
    expect(clocks('2023', '2020', [change('postpone', '2024-01-01')]).whenBuilt).toBe('unknown')
    expect(clocks('2023', '2020', [change('postpone', '2026-12-31')]).whenBuilt).toBe('no')
    expect(clocks('2023', '2020', [change('postpone', '2027-01-01')]).whenBuilt).toBe('yes')
    expect(clocks('2023', '1996', [change('postpone', '2024-01-01')]).whenBuilt).toBe('yes')
  })
  const amendment = fc.record({
    requirement: fc.constantFrom('bath', 'bath/sink', 'other'),
    effect: fc.constantFrom('add', 'remove', 'postpone') as fc.Arbitrary<Amendment['effect']>,
    from: fc.integer({ min: 1980, max: 2030 }).map((year) => day(`${year}-06-01`)),
    source: fc.constant('local'),
  })
  const edition = fc.option(fc.constantFrom(...EDITIONS))
  test('the order in which changes were entered does not matter', () => {
    fc.assert(
      fc.property(fc.array(amendment, { maxLength: 5 }), edition, edition, (list, now, built) => {
        const there = clocks(now, built, list)
        const back = clocks(now, built, list.toReversed())
        expect([back.whenBuilt, back.today]).toEqual([there.whenBuilt, there.today])
      }),
    )
  })
})

test('one context and one requirement are worked out once', () => {
  const context: RuleContext = under('2023', '1984')
  expect(clocksOf(requirement, context)).toBe(clocksOf(requirement, context))
  expect(clocksOf({ ...requirement, rows: [requirement.rows[1]!] }, context).today).toBe('no')
})

test('rows and values by edition', () => {
  expect(rowIn(requirement, '1968')).toBeNull()
  expect(rowIn(requirement, '1971')?.since).toBe('1971')
  expect(rowIn(requirement, '1990')?.since).toBe('1987')
  const rows = [
    { since: '1999', value: 'a', source: 'x' },
    { since: '2011', value: 'b', source: 'x' },
  ] as const
  expect([null, '1996', '1999', '2008', '2011', '2026'].map((each) => valueIn(rows, each as '1996'))).toEqual(
    [null, null, 'a', 'a', 'b', 'b'],
  )
  expect(NEWEST_EDITION).toBe('2026')
})

test('the strictest of several answers', () => {
  expect(strictest(['no', 'unknown', 'yes'])).toBe('yes')
  expect(strictest(['no', 'unknown'])).toBe('unknown')
  expect(strictest(['no'])).toBe('no')
  expect(strictest([])).toBe('no')
})

test('references are told once', () => {
  const one = { code: 'a', article: '1' }
  expect(uniqueReferences([one, { ...one }, { code: 'b' }])).toEqual([one, { code: 'b' }])
  for (const differs of ['edition', 'article', 'row'] as const) {
    const two = [
      { code: 'a', [differs]: '2020' },
      { code: 'a', [differs]: '2023' },
    ]
    expect(uniqueReferences(two)).toEqual(two)
  }
})
