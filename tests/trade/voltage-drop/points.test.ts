import fc from 'fast-check'
import { expect, test } from 'vitest'
import {
  locatedAlong,
  measuredPoints,
  type Point,
  readPoints,
  writePoints,
} from '../../../trade/voltage-drop/points.ts'

const at = (name: string, volts: number | null, loadedVolts: number | null): Point => ({
  name,
  volts,
  loadedVolts,
})

test('points are written one a line, and read back as they were', () => {
  const points = [at('Sofa wall', 121.5, 113), at('', 120, null)]
  expect(writePoints(points)).toBe('Sofa wall | 121.5 | 113\n| 120 |')
  expect(readPoints(writePoints(points))).toEqual(points)
})

test('any points come back, whatever is typed as a name', () => {
  const volts = fc.option(
    fc.double({ min: 0, max: 300, noNaN: true }).map((each) => Math.round(each * 10) / 10),
  )
  const point = fc.record({ name: fc.string({ maxLength: 40 }), volts, loadedVolts: volts })
  fc.assert(
    fc.property(fc.array(point), (points) => {
      const once = readPoints(writePoints(points))
      expect(readPoints(writePoints(once))).toEqual(once)
      expect(once.map((each) => each.volts)).toEqual(points.map((each) => each.volts))
    }),
  )
})

// From the manual of a branch-circuit analyser: an abrupt step lies between two outlets, a steady fall is the wire.
test('an abrupt step is located between the outlets where it is', () => {
  const found = locatedAlong([at('Hall', 120, 118), at('Sofa wall', 120, 117.5), at('Window', 120, 106)])
  expect(found!.located).toMatchObject({
    kind: 'between',
    from: { name: 'Sofa wall' },
    to: { name: 'Window' },
  })
  expect(found!.words).toMatch(/between Sofa wall and Window/)
})

test('a steady fall is the length of the wire', () => {
  const found = locatedAlong([at('a', 120, 117), at('b', 120, 114), at('c', 120, 111), at('d', 120, 108)])
  expect(found!.located.kind).toBe('steady')
})

test('fewer than two measured points say nothing; a slip is no measurement', () => {
  expect(locatedAlong([])).toBeNull()
  expect(locatedAlong([at('a', 120, 110), at('b', 120, null)])).toBeNull()
  expect(measuredPoints([at('a', 110, 120), at('b', 0, 0), at('c', -5, -6)])).toEqual([])
})
