import { describe, expect, test } from 'vitest'
import { day } from '../../trade/dates.ts'
import { type Adoption, type Edition, editionInForce, isAtLeast, isEdition } from '../../trade/editions.ts'
import { articleIn, editionRead, inEveryEdition, nec } from '../../trade/nec.ts'
import { under } from './overcurrent/verdicts.ts'

test('editions are the years on the covers of NFPA 70', () => {
  expect(['1978', '2023'].every(isEdition)).toBe(true)
  expect(['1979', '2024', '23', ''].some(isEdition)).toBe(false)
  expect(isAtLeast('2020', '2020')).toBe(true)
  expect(isAtLeast('2017', '2020')).toBe(false)
  expect(isAtLeast('2023', '2020')).toBe(true)
})

describe('the edition in force', () => {
  const adopted = (edition: Edition, from: string): Adoption => ({ edition, from: day(from) })
  const adoptions = [
    adopted('2020', '2022-03-01'),
    adopted('2014', '2016-07-01'),
    adopted('2023', '2025-01-01'),
  ]
  test.each<[string, Edition | null]>([
    ['2016-06-30', null],
    ['2016-07-01', '2014'],
    ['2022-02-28', '2014'],
    ['2022-03-01', '2020'],
    ['2025-01-01', '2023'],
    ['2026-11-25', '2023'],
  ])('on %s: %s, whatever the order of entry', (on, edition) => {
    expect(editionInForce(adoptions, day(on))).toBe(edition)
    expect(editionInForce(adoptions.toReversed(), day(on))).toBe(edition)
  })
  test('a jurisdiction may go back to an older one; of two from one day the one entered last holds', () => {
    const back = [...adoptions, adopted('2017', '2026-01-01')]
    expect(editionInForce(back, day('2026-01-01'))).toBe('2017')
    const twice = [...adoptions, adopted('2017', '2025-01-01')]
    expect(editionInForce(twice, day('2025-06-01'))).toBe('2017')
  })
  test('with none nobody can tell', () => expect(editionInForce([], day('2026-01-01'))).toBeNull())
})

describe('a place in NFPA 70', () => {
  // The dwelling rule: 310.15(B)(7) in the 2017 edition, 310.12 since 2020.
  const moved = [
    { since: '1999', value: '310.15(B)(6)', source: 'from memory' },
    { since: '2011', value: '310.15(B)(7)', source: 'NFPA 70-2017' },
    { since: '2020', value: '310.12', source: 'NFPA 70-2020' },
  ] as const
  test.each<[Edition | null, string]>([
    ['2017', '310.15(B)(7)'],
    ['2020', '310.12'],
    ['2026', '310.12'],
    // Not known, or older than the first number: the newest one is the one that can be looked up.
    [null, '310.12'],
    ['1975', '310.12'],
  ])('under %s: %s', (edition, article) => {
    expect(articleIn(moved, edition)).toBe(article)
  })
  test('is cited with edition and row only where there are such', () => {
    expect(nec('240.4', '2023')).toEqual({ code: 'NFPA 70', article: '240.4', edition: '2023' })
    expect(nec(moved, null)).toStrictEqual({ code: 'NFPA 70', article: '310.12' })
    expect(nec('Table 310.16', '2020', '12 AWG')).toEqual({
      code: 'NFPA 70',
      article: 'Table 310.16',
      edition: '2020',
      row: '12 AWG',
    })
  })
})

test('figures are read in the edition in force, else in that of the building', () => {
  expect(editionRead(under('2023', '1984'))).toBe('2023')
  expect(editionRead(under(null, '1984'))).toBe('1984')
  expect(editionRead(under(null))).toBeNull()
})

test('what every edition asked is unknown only where the edition is', () => {
  expect(inEveryEdition(under('2023', '1984'))).toEqual({ whenBuilt: 'yes', today: 'yes' })
  expect(inEveryEdition(under('2023'))).toEqual({ whenBuilt: 'unknown', today: 'yes' })
  expect(inEveryEdition(under(null, '1984'))).toEqual({ whenBuilt: 'yes', today: 'unknown' })
})
