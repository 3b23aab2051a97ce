import type { MouseEvent } from 'react'
import { expect, test } from 'vitest'
import { isDoubled } from '../../web/field/parts/doubled.ts'

// 300 ms is the time that Android's ViewConfiguration.getDoubleTapTimeout() gives a double tap; from memory.

const press = (timeStamp: number, pointerType = 'touch', detail = 1) =>
  ({ timeStamp, detail, nativeEvent: { pointerType } }) as unknown as MouseEvent

test('two touches within a double tap are one answer, later ones are two', () => {
  expect([1000, 1150, 1449, 1749, 2100].map((at) => isDoubled(press(at)))).toEqual([
    false,
    true,
    true,
    false,
    false,
  ])
})

test('a mouse and a keyboard are believed each time, but for a double click', () => {
  expect(isDoubled(press(5000, 'mouse'))).toBe(false)
  expect(isDoubled(press(5010, 'mouse'))).toBe(false)
  expect(isDoubled(press(5020, 'mouse', 2))).toBe(true)
  expect(isDoubled(press(5030, '', 0))).toBe(false)
})
