import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { annotationSchema } from '../../server/photos/schema.ts'
import type { PhotoMark } from '../../trade/inspection/photo-marks.ts'
import { handlesOf, movedTo, newMark, steppedBy } from '../../web/field/photos/mark-handles.ts'
import { numberFault, numberOf } from '../../web/field/parts/number-words.ts'

const size = { width: 1600, height: 1200 }
const SHAPES = ['arrow', 'circle', 'text'] as const

describe('marks on a picture', () => {
  test('whatever is done with a mark, the office takes it', () => {
    const anywhere = fc.record({
      x: fc.double({ min: -3, max: 3, noNaN: true }),
      y: fc.double({ min: -3, max: 3, noNaN: true }),
    })
    const act = fc.record({ handle: fc.nat(2), to: anywhere })
    fc.assert(
      fc.property(fc.constantFrom(...SHAPES), fc.array(act, { maxLength: 8 }), (shape, acts) => {
        let mark: PhotoMark = newMark(shape)
        for (const { handle, to } of acts) mark = handlesOf(mark, size)[handle]?.move(to) ?? movedTo(mark, to)
        expect(annotationSchema.safeParse(mark).success).toBe(true)
      }),
    )
  })

  test('a tap brings what points to the place, and an arrow keeps its direction', () => {
    const arrow = { shape: 'arrow' as const, from: { x: 0.3, y: 0.7 }, to: { x: 0.5, y: 0.5 } }
    expect(movedTo(arrow, { x: 0.6, y: 0.4 })).toEqual({
      shape: 'arrow',
      from: { x: 0.4, y: 0.6 },
      to: { x: 0.6, y: 0.4 },
    })
  })

  test('a circle is as large as its handle is far, also upwards on a picture that is not square', () => {
    const grip = handlesOf({ shape: 'circle', centre: { x: 0.5, y: 0.5 }, radius: 0.1 }, size)[1]!
    expect(grip.move({ x: 0.75, y: 0.5 })).toMatchObject({ radius: 0.25 })
    // 0.2 of 1200 px is 0.15 of 1600 px.
    expect(grip.move({ x: 0.5, y: 0.3 })).toMatchObject({ radius: 0.15 })
  })

  test('arrow keys move by a hundredth, with Shift by five; other keys do nothing', () => {
    const at = { x: 0.5, y: 0.5 }
    expect(steppedBy('ArrowLeft', false, at)).toEqual({ x: 0.49, y: 0.5 })
    expect(steppedBy('ArrowDown', true, at)).toEqual({ x: 0.5, y: 0.55 })
    expect(steppedBy('Enter', false, at)).toBeNull()
  })
})

describe('numbers as they are typed or dictated', () => {
  const volts = { type: 'number', label: 'Voltage', unit: 'V', min: 0, max: 300 } as const
  test.each([
    ['121.5', 121.5],
    ['121,5', 121.5],
    ['121.5 V', 121.5],
    ['121.5 volts', 121.5],
    ['35 in·lb', 35],
    ['  7 ', 7],
    ['.5', 0.5],
  ])('“%s” is %d', (text, value) => {
    expect(numberOf(text)).toBe(value)
    expect(numberFault(text, volts)).toBeNull()
  })
  test.each(['about 120', '1e3', '12..5', '0x10', 'V', '--5', '120 121'])('“%s” is no number', (text) => {
    expect(numberFault(text, volts)).toMatch(/Write a number, 0 to 300 V/)
  })
  test('what is out of range says the range, and a count is whole', () => {
    expect(numberFault('301', volts)).toBe('Between 0 to 300 V, please.')
    expect(numberFault('1.5', { ...volts, unit: 'count', step: 1 })).toMatch(/whole number/)
    expect(numberFault('', volts)).toBeNull()
  })
})
