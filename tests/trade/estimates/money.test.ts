import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  lineNetCents,
  lineTaxCents,
  moneyInWords,
  MOST_BASIS_POINTS,
  MOST_CENTS,
  MOST_THOUSANDTHS,
  type PricedLine,
  readMoney,
  readPercent,
  readQuantity,
  sumsOf,
  typedMoney,
  typedPercent,
  typedQuantity,
} from '../../../trade/estimates/money.ts'

const line = fc.record({
  quantityThousandths: fc.integer({ min: 1, max: MOST_THOUSANDTHS }),
  priceCents: fc.integer({ min: -MOST_CENTS, max: MOST_CENTS }),
  taxBasisPoints: fc.integer({ min: 0, max: MOST_BASIS_POINTS }),
})

/** The same in whole numbers of any size. */
function exactly({ quantityThousandths, priceCents }: PricedLine, taxBasisPoints: number) {
  const round = (dividend: bigint, divisor: bigint) => {
    const size = dividend < 0n ? -dividend : dividend
    const whole = (2n * size + divisor) / (2n * divisor)
    return dividend < 0n ? -whole : whole
  }
  const net = round(BigInt(quantityThousandths) * BigInt(priceCents), 1000n)
  return { net: Number(net), tax: Number(round(net * BigInt(taxBasisPoints), 10_000n)) }
}

test.each([
  // thousandths, cents, basis points, net, tax: worked by hand
  [1000, 14_500, 0, 14_500, 0],
  [2500, 9500, 825, 23_750, 1959], // 237.50 × 8.25 % = 19.59375
  [3000, 333, 700, 999, 70], // 9.99 × 7 % = 0.6993
  [1500, 333, 0, 500, 0], // 4.995: half, up
  [500, 1, 0, 1, 0], // half a cent
  [499, 1, 0, 0, 0],
  [1000, 2500, 625, 2500, 156], // 1.5625
  [1000, 200, 625, 200, 13], // 0.125: the third decimal is five, up (SSUTA §324)
  [1000, 192, 700, 192, 13], // 0.1344: it is four, down
  [1500, -333, 0, -500, 0],
  [1000, -200, 625, -200, -13],
  [1, -1, 0, 0, 0],
])('%s thousandths at %s cents and %s basis points: %s and %s tax', (quantity, price, tax, net, taxed) => {
  const each = { quantityThousandths: quantity, priceCents: price, taxBasisPoints: tax }
  expect([lineNetCents(each), lineTaxCents(each)]).toStrictEqual([net, taxed])
})

describe('any lines', () => {
  test('come out as exact arithmetic has them, in whole cents', () => {
    fc.assert(
      fc.property(line, (each) => {
        const { net, tax } = exactly(each, each.taxBasisPoints)
        expect([lineNetCents(each), lineTaxCents(each)].map((cents) => cents + 0)).toEqual([net + 0, tax + 0])
      }),
    )
  })
  test('their sums are the sum of their sums, in any order', () => {
    fc.assert(
      fc.property(fc.array(line, { maxLength: 30 }), (lines) => {
        const whole = sumsOf(lines)
        const single = lines.map((each) => sumsOf([each]))
        expect(whole.netCents).toBe(single.reduce((so, each) => so + each.netCents, 0))
        expect(whole.taxCents).toBe(single.reduce((so, each) => so + each.taxCents, 0))
        expect(whole.totalCents).toBe(whole.netCents + whole.taxCents)
        expect(Number.isSafeInteger(whole.totalCents)).toBe(true)
        expect(sumsOf([...lines].reverse())).toEqual(whole)
      }),
    )
  })
  test('a reduction takes away what the same line adds', () => {
    fc.assert(
      fc.property(line, (each) => {
        expect(sumsOf([each, { ...each, priceCents: -each.priceCents }]).totalCents).toBe(0)
      }),
    )
  })
  test('nothing comes to nothing', () => {
    expect(sumsOf([])).toStrictEqual({ netCents: 0, taxCents: 0, totalCents: 0 })
  })
})

test.each([
  [145_050, '$1,450.50'],
  [123_456_789, '$1,234,567.89'],
  [100_000, '$1,000.00'],
  [99_999, '$999.99'],
  [5, '$0.05'],
  [0, '$0.00'],
  [-2000, '−$20.00'],
])('%s cents are written %s', (cents, words) => {
  expect(moneyInWords(cents)).toBe(words)
})

test.each([
  ['145.00', 14_500],
  ['145', 14_500],
  [' $1,450.50 ', 145_050],
  ['1,450', 145_000],
  ['145.', 14_500],
  ['145.5', 14_550],
  ['0.05', 5],
  ['-20', -2000],
  ['-$20.00', -2000],
  ['−20', -2000],
  ['100000', 10_000_000],
  ['100000.01', null],
  ['145.005', null],
  ['1,45', null],
  ['14,500,0', null],
  ['145,00', null],
  ['.50', null],
  ['', null],
  ['-', null],
  ['1e3', null],
  ['free', null],
  ['12 34', null],
])('money typed as “%s” is read as %s', (text, cents) => {
  expect(readMoney(text)).toBe(cents)
})

test.each([
  ['1', 1000],
  ['2.5', 2500],
  ['0.125', 125],
  ['0', null],
  ['-1', null],
  ['0.0001', null],
  ['10000', 10_000_000],
  ['10000.001', null],
])('a quantity typed as “%s” is read as %s', (text, thousandths) => {
  expect(readQuantity(text)).toBe(thousandths)
})

test.each([
  ['8.25', 825],
  ['8.25 %', 825],
  ['7%', 700],
  ['0', 0],
  ['100', 10_000],
  ['100.01', null],
  ['8.255', null],
  ['-1', null],
  ['%', null],
])('a tax typed as “%s” is read as %s', (text, points) => {
  expect(readPercent(text)).toBe(points)
})

test('what is shown to be typed over is read as what it was', () => {
  fc.assert(
    fc.property(line, ({ priceCents, quantityThousandths, taxBasisPoints }) => {
      expect(readMoney(typedMoney(priceCents))).toBe(priceCents)
      expect(readMoney(moneyInWords(priceCents))).toBe(priceCents)
      expect(readQuantity(typedQuantity(quantityThousandths))).toBe(quantityThousandths)
      expect(readPercent(typedPercent(taxBasisPoints))).toBe(taxBasisPoints)
    }),
  )
  expect([typedMoney(145_050), typedMoney(-5), typedMoney(0)]).toEqual(['1450.50', '-0.05', '0.00'])
  expect([typedQuantity(1000), typedQuantity(2500), typedQuantity(125)]).toEqual(['1', '2.5', '0.125'])
  expect([typedPercent(825), typedPercent(700), typedPercent(0)]).toEqual(['8.25', '7', '0'])
})
