import { validate, version } from 'uuid'
import { afterEach, expect, test, vi } from 'vitest'
import { newId } from '../../server/ids.ts'

afterEach(() => void vi.useRealTimers())

// RFC 9562 §5.7, §6.2: read and judged by an independent library.

test('ids are UUIDs of version 7, none twice, and grow', () => {
  const before = Date.now()
  const ids = Array.from({ length: 50_000 }, () => newId())
  const after = Date.now()
  expect(ids.every((id) => validate(id) && version(id) === 7)).toBe(true)
  expect(new Set(ids).size).toBe(ids.length)
  expect(ids.toSorted()).toEqual(ids)
  const instants = ids.map((id) => Number.parseInt(id.replace('-', '').slice(0, 12), 16))
  expect(instants[0]).toBeGreaterThanOrEqual(before)
  expect(instants.at(-1)).toBeLessThanOrEqual(after)
  // What is neither time nor count is drawn anew for each: 34 bits, of which 50,000 hardly ever share all.
  expect(new Set(ids.map((id) => id.slice(-8))).size).toBeGreaterThan(49_900)
})

test('also when the clock is set back', () => {
  vi.useFakeTimers({ toFake: ['Date'], now: Date.now() })
  const first = newId()
  vi.setSystemTime(Date.now() - 3_600_000)
  expect([newId(), newId()].toSorted()[0]! > first).toBe(true)
})
