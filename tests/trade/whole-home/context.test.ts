import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { day } from '../../../trade/dates.ts'
import type { Edition } from '../../../trade/editions.ts'
import { contextsFor, editionWhenBuilt, type Jurisdiction } from '../../../trade/whole-home/context.ts'
import { anyDay, anyJurisdiction, anyProperty } from '../../build/arbitrary-home.ts'
import { UNKNOWN_PROPERTY } from '../inspection/build.ts'

const jurisdiction = (...adoptions: [Edition, string][]): Jurisdiction => ({
  name: 'Port Ansel',
  isUs: true,
  amendments: [],
  adoptions: adoptions.map(([edition, from]) => ({ edition, from: day(from) })),
})
const property = (yearBuilt: number | null, yearAltered: number | null = null) => ({ yearBuilt, yearAltered })

// Adoption dates: Texas, 16 TAC 73.100 (2023 edition from 2023-09-01). A permit of the day before falls under the old one.
const TEXAS = jurisdiction(['2020', '2020-11-01'], ['2023', '2023-09-01'])

describe('the edition that a part was built under', () => {
  test.each<[string, Edition]>([
    ['2023-08-15', '2020'],
    ['2023-08-31', '2020'],
    ['2023-09-01', '2023'],
  ])('installed %s in Texas: %s', (on, edition) => {
    expect(editionWhenBuilt(TEXAS, property(null), day(on))).toBe(edition)
  })

  // The 1975 edition came out in September 1974: a home of 1974 was never built under it.
  const old = jurisdiction(['1971', '1972-01-01'], ['1975', '1975-01-01'])
  test.each<[number | null, Edition | null]>([
    [1974, '1971'],
    [1975, '1975'],
    [1976, '1975'],
    [1971, null],
    [null, null],
    [1974.5, null],
    [0, null],
    [-5, null],
    [9999, '1975'],
    [10_000, null],
  ])('built %s: %s', (year, edition) => {
    expect(editionWhenBuilt(old, property(year))).toBe(edition)
  })

  test('with only a year known, an edition adopted later in that year does not count', () => {
    const midYear = jurisdiction(['2014', '2015-01-01'], ['2020', '2021-07-01'])
    expect(editionWhenBuilt(midYear, property(2021))).toBe('2014')
    expect(editionWhenBuilt(midYear, property(2022))).toBe('2020')
  })

  test('a later alteration under another edition leaves parts without a date open', () => {
    expect(editionWhenBuilt(old, property(1974, 1976))).toBeNull()
    expect(editionWhenBuilt(old, property(1975, 1990))).toBe('1975')
    expect(editionWhenBuilt(old, property(1974, 1974))).toBe('1971')
    expect(editionWhenBuilt(old, property(null, 1990))).toBeNull()
    expect(editionWhenBuilt(old, property(1974, 1976), day('1976-03-01'))).toBe('1975')
  })

  // Arizona adopts locally: no state list, no default edition.
  test('without adoptions nothing is assumed', () => {
    expect(editionWhenBuilt(jurisdiction(), property(1990), day('2020-01-01'))).toBeNull()
  })
})

test('parts of one edition share one context; each knows today and the edition of today', () => {
  const contexts = contextsFor({ ...UNKNOWN_PROPERTY, yearBuilt: 2021 }, TEXAS, day('2026-05-20'))
  expect(contexts.ofHome).toEqual({
    today: '2026-05-20',
    editionNow: '2023',
    editionWhenBuilt: '2020',
    amendments: [],
  })
  expect(contexts.of({ installedOn: null })).toBe(contexts.ofHome)
  expect(contexts.of({ installedOn: day('2022-01-01') })).toBe(contexts.ofHome)
  expect(contexts.of({ installedOn: day('2024-01-01') }).editionWhenBuilt).toBe('2023')
})

test('homes of one jurisdiction and day share their contexts; another day has its own', () => {
  const first = contextsFor(UNKNOWN_PROPERTY, TEXAS, day('2026-05-20')).ofHome
  expect(contextsFor({ ...UNKNOWN_PROPERTY, yearBuilt: 1900 }, TEXAS, day('2026-05-20')).ofHome).toBe(first)
  const next = contextsFor(UNKNOWN_PROPERTY, TEXAS, day('2026-05-21')).ofHome
  expect(next).toEqual({ ...first, today: '2026-05-21' })
  expect(contextsFor(UNKNOWN_PROPERTY, TEXAS, day('2026-05-20')).ofHome).toEqual(first)
})

test('no record and no jurisdiction makes it fail, and a newer part is never under an older adoption', () => {
  fc.assert(
    fc.property(anyJurisdiction(), anyProperty, anyDay, anyDay, (place, home, a, b) => {
      const contexts = contextsFor(home, place, a)
      expect(contexts.of({ installedOn: b }).today).toBe(a)
      const [early, late] = a < b ? [a, b] : [b, a]
      const sinceWhen = (on: typeof a) => {
        const edition = editionWhenBuilt(place, home, on)
        return place.adoptions
          .filter((each) => each.edition === edition && each.from <= on)
          .reduce((latest, { from }) => (from > latest ? from : latest), '')
      }
      expect(sinceWhen(early) <= sinceWhen(late)).toBe(true)
    }),
  )
})
