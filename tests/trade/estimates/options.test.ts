import fc from 'fast-check'
import { expect, test } from 'vitest'
import { sumsOf } from '../../../trade/estimates/money.ts'
import {
  faultOfChoice,
  isBelowZero,
  isTaken,
  offerOf,
  type OptionalLine,
  optionNames,
  sumsWith,
} from '../../../trade/estimates/options.ts'

const priced = (option: string, priceCents: number, taxBasisPoints = 0): OptionalLine => ({
  option,
  priceCents,
  taxBasisPoints,
  quantityThousandths: 1000,
})

/** Two alarms and a receptacle, always; a surge protector or a cover, as they like. Worked by hand. */
const LINES = [
  { ...priced('', 8900, 700), quantityThousandths: 2000 },
  priced('Surge protector', 38_500, 700),
  priced('', 14_500),
  priced('In-use cover', 4500, 700),
  priced('Surge protector', -2000, 700),
]

test('what is offered: the part that is always taken, each option by itself, and all of it', () => {
  expect(offerOf(LINES)).toEqual({
    always: { netCents: 32_300, taxCents: 1246, totalCents: 33_546 },
    options: [
      { name: 'Surge protector', netCents: 36_500, taxCents: 2555, totalCents: 39_055 },
      { name: 'In-use cover', netCents: 4500, taxCents: 315, totalCents: 4815 },
    ],
    all: { netCents: 73_300, taxCents: 4116, totalCents: 77_416 },
  })
})

test.each([
  [[], 33_546],
  [['Surge protector'], 72_601],
  [['In-use cover'], 38_361],
  [['In-use cover', 'Surge protector'], 77_416],
])('with %j: %s cents', (chosen, cents) => {
  expect(sumsWith(LINES, chosen).totalCents).toBe(cents)
})

test('a choice must be of what is offered, and take something', () => {
  expect(faultOfChoice(LINES, [])).toBeNull()
  expect(faultOfChoice(LINES, ['In-use cover'])).toBeNull()
  expect(faultOfChoice(LINES, ['A boat'])).toBe('unknown-option')
  expect(faultOfChoice(LINES, [''])).toBe('unknown-option')
  const onlyOptions = LINES.filter(({ option }) => option !== '')
  expect(faultOfChoice(onlyOptions, [])).toBe('nothing-taken')
  expect(faultOfChoice([], [])).toBe('nothing-taken')
})

test('a reduction may not outweigh what it stands beside', () => {
  expect(isBelowZero(LINES)).toBe(false)
  expect(isBelowZero([priced('', 100), priced('', -100)])).toBe(false)
  expect(isBelowZero([priced('', 100), priced('', -101)])).toBe(true)
  expect(isBelowZero([priced('', 500), priced('Cover', -100)])).toBe(true)
  // More tax is taken back than was asked for.
  expect(isBelowZero([priced('', 500), priced('', -100, 700)])).toBe(true)
})

const line = fc.record({
  option: fc.constantFrom('', 'a', 'b', 'c'),
  quantityThousandths: fc.integer({ min: 1, max: 100_000 }),
  priceCents: fc.integer({ min: -100_000, max: 100_000 }),
  taxBasisPoints: fc.integer({ min: 0, max: 2000 }),
})

test('any offer: its parts make the whole, and each choice is the always part and what was chosen', () => {
  fc.assert(
    fc.property(fc.array(line, { maxLength: 20 }), fc.subarray(['a', 'b', 'c']), (lines, wished) => {
      const { always, options, all } = offerOf(lines)
      const total = (parts: { totalCents: number }[]) => parts.reduce((so, part) => so + part.totalCents, 0)
      expect(total([always, ...options])).toBe(all.totalCents)
      expect(total(lines.map((line) => sumsOf([line])))).toBe(all.totalCents)
      const chosen = optionNames(lines).filter((name) => wished.includes(name))
      const taken = options.filter(({ name }) => chosen.includes(name))
      expect(sumsWith(lines, chosen).totalCents).toBe(total([always, ...taken]))
      expect(lines.filter((each) => isTaken(each, optionNames(lines)))).toEqual(lines)
    }),
  )
})
