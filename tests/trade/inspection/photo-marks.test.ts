import fc from 'fast-check'
import { expect, test } from 'vitest'
import { markPath, markText, markWords, type PhotoMark } from '../../../trade/inspection/photo-marks.ts'

const size = { width: 1600, height: 1200 }
const place = fc.record({
  x: fc.double({ min: 0, max: 1, noNaN: true }),
  y: fc.double({ min: 0, max: 1, noNaN: true }),
})
const drawn = fc.oneof(
  fc.record({ shape: fc.constant('arrow' as const), from: place, to: place }),
  fc.record({
    shape: fc.constant('circle' as const),
    centre: place,
    radius: fc.double({ min: 0, max: 1, noNaN: true }),
  }),
)

// SVG 2 §9.3: path data are commands M, L and a, each with its numbers.
const PATH = /^(?:[ML]-?[\d.]+ -?[\d.]+|a(?:-?[\d.]+ ){5}-?[\d.]+ -?[\d.]+|a[-\d. ]+)+$/

test('any mark on any picture is valid path data, without NaN or exponents', () => {
  fc.assert(
    fc.property(drawn, (mark) => PATH.test(markPath(mark, size)) && !/[eN]/.test(markPath(mark, size))),
  )
})

test('an arrow ends where it points, its barbs behind the tip', () => {
  const path = markPath({ shape: 'arrow', from: { x: 0, y: 0.5 }, to: { x: 0.5, y: 0.5 } }, size)
  expect(path).toMatch(/^M0 600L800 600M/)
  const [, left, right] = /M([\d.]+) [\d.]+L800 600L([\d.]+) [\d.]+$/.exec(path)!
  expect(Number(left)).toBeLessThan(800)
  // To the right both barbs lie equally far back: cos is even.
  expect(left).toBe(right)
})

test('a circle is round on a picture that is not square', () => {
  expect(markPath({ shape: 'circle', centre: { x: 0.5, y: 0.5 }, radius: 0.1 }, size)).toBe(
    'M640 600a160 160 0 1 0 320 0a160 160 0 1 0 -320 0',
  )
})

test('words start where they were put, and grow with the picture', () => {
  const mark = { shape: 'text' as const, at: { x: 0.25, y: 0.5 }, text: 'loose' }
  expect(markText(mark, size)).toEqual({ x: 400, y: 660, height: 60 })
  expect(markText(mark, { width: 400, height: 300 })).toEqual({ x: 100, y: 165, height: 15 })
})

test.each<[PhotoMark, string]>([
  [
    { shape: 'arrow', from: { x: 0, y: 0 }, to: { x: 0.4, y: 0.3 } },
    'Arrow pointing at 40 % across and 30 % down',
  ],
  [{ shape: 'circle', centre: { x: 0.5, y: 0.6 }, radius: 0.1 }, 'Circle around 50 % across and 60 % down'],
  [{ shape: 'text', at: { x: 0.1, y: 0.2 }, text: 'loose' }, '“loose” at 10 % across and 20 % down'],
])('%o in words', (mark, words) => {
  expect(markWords(mark)).toBe(words)
})
