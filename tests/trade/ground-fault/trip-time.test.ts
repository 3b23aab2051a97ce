import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { day } from '../../../trade/dates.ts'
import { nextButtonTest, selfTestExpected } from '../../../trade/ground-fault/self-test.ts'
import { judgeTripTest, longestTripMs, tripExpected } from '../../../trade/ground-fault/trip-time.ts'

describe('UL 943 class A', () => {
  test.each([
    [6, 5.59],
    [10, 2.69],
    [15, 1.51],
    [20, 1.0],
    [30, 0.56],
    [50, 0.27],
    [100, 0.1],
    [264, 0.025],
  ])('derived table: %d mA trips within %f s', (milliamps, seconds) => {
    expect(longestTripMs(milliamps)! / 1000).toBeCloseTo(seconds, seconds < 0.2 ? 3 : 2)
  })
  test('the curve is T = (20 / I)^1.43, worked out here by logarithms', () => {
    for (let milliamps = 6; milliamps <= 264; milliamps += 3) {
      const seconds = Math.exp(1.43 * (Math.log(20) - Math.log(milliamps)))
      expect(longestTripMs(milliamps)! / 1000).toBeCloseTo(seconds, 9)
    }
  })
  test('beyond 264 mA the last stated time holds', () => {
    expect(longestTripMs(400)).toBe(longestTripMs(264))
    expect(longestTripMs(263)).toBeGreaterThan(longestTripMs(264)!)
  })
  test.each([
    [0, 'must-hold'],
    [3.9, 'must-hold'],
    [4, 'may'],
    [5, 'may'],
    [5.9, 'may'],
    [6, 'must-trip'],
    [264, 'must-trip'],
  ] as const)('%f mA: %s', (milliamps, expected) => {
    expect(tripExpected(milliamps)).toBe(expected)
    expect(longestTripMs(milliamps) === null).toBe(expected !== 'must-trip')
  })
  test.each([
    [{ milliamps: 3.9, tripped: false }, 'pass'],
    [{ milliamps: 3.9, tripped: true }, 'trips-early'],
    // 5 mA lies in the band where neither is asked.
    [{ milliamps: 5, tripped: true, ms: 20 }, 'neither'],
    [{ milliamps: 5, tripped: false }, 'neither'],
    [{ milliamps: 6, tripped: false }, 'holds'],
    [{ milliamps: 6, tripped: true }, 'time-missing'],
    [{ milliamps: 6, tripped: true, ms: 5590 }, 'pass'],
    [{ milliamps: 6, tripped: true, ms: 5600 }, 'too-slow'],
    [{ milliamps: 20, tripped: true, ms: 1000 }, 'pass'],
    [{ milliamps: 20, tripped: true, ms: 1001 }, 'too-slow'],
    [{ milliamps: 264, tripped: true, ms: 25 }, 'pass'],
    [{ milliamps: 264, tripped: true, ms: 26 }, 'too-slow'],
  ] as const)('%o: %s', (trip, result) => {
    expect(judgeTripTest(trip)).toBe(result)
  })
  test('UL 943 solved for the current: I = 20 mA / T^(1/1.43) leads back', () => {
    fc.assert(
      fc.property(fc.double({ min: 6, max: 260, noNaN: true }), (milliamps) => {
        const seconds = longestTripMs(milliamps)! / 1000
        expect(20 / seconds ** (1 / 1.43)).toBeCloseTo(milliamps, 6)
      }),
    )
  })
  test('more current never allows more time', () => {
    const current = fc.double({ min: 6, max: 500, noNaN: true })
    fc.assert(
      fc.property(current, current, (a, b) => {
        expect(longestTripMs(Math.max(a, b))).toBeLessThanOrEqual(longestTripMs(Math.min(a, b))!)
      }),
    )
  })
})

describe('self-test and monthly button test', () => {
  test.each([
    // GF3: UL 943, in force 2015-06-29.
    ['2015-06-28', false],
    ['2015-06-29', true],
  ])('made %s: self-test expected %s', (made, expected) => {
    expect(selfTestExpected(day(made))).toBe(expected)
  })
  test('without a date nobody can tell', () => expect(selfTestExpected(null)).toBeNull())
  test.each([
    // GF4: counted from the anchor, so the 31st comes back.
    ['2026-01-31', '2026-01-31', '2026-02-28'],
    ['2026-01-31', '2026-02-28', '2026-03-31'],
    ['2026-01-31', '2026-02-27', '2026-02-28'],
    ['2026-01-31', '2025-06-01', '2026-02-28'],
  ])('first tested %s, after %s: %s', (anchor, after, due) => {
    expect(nextButtonTest(day(anchor), day(after))).toBe(due)
  })
})
