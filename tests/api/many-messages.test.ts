import { expect, test } from 'vitest'
import { isConfirmed, numberToConfirm } from '../../server/follow-ups/many-messages.ts'

test.each([
  [0, 100, null],
  [0, 101, 101],
  [20_000, 20_100, null],
  [20_000, 40_000, 40_000],
  [500, 200, null],
])('%i letters before and %i after: %s is to be said back', (before, after, wanted) => {
  expect(numberToConfirm({ before, after })).toBe(wanted)
})

test.each([
  [null, undefined, true],
  [150, undefined, false],
  [150, 150, true],
  [150, 157, true],
  [150, 143, true],
  [150, 158, false],
  [150, 100_000_000, false],
  [40_000, 38_000, true],
  [40_000, 37_999, false],
])('of %s letters, %s said back: %s', (wanted, said, isEnough) => {
  expect(isConfirmed(wanted, said)).toBe(isEnough)
})
