import fc from 'fast-check'
import { expect, test } from 'vitest'
import { declinedStatement, refusalStatement, signaturePath } from '../../../trade/inspection/signature.ts'

const where = { line1: '14 Quay Lane', city: 'Port Ansel' }

test('strokes are fitted into the box, whatever they were drawn on', () => {
  const strokes = [
    [
      { x: 0, y: 0 },
      { x: 300, y: 100 },
    ],
  ]
  expect(signaturePath(strokes, { width: 300, height: 100 })).toBe('M0 0L600 200')
  // On a tall surface the height decides.
  expect(signaturePath(strokes, { width: 300, height: 400 })).toBe('M0 0L150 50')
})

test('a tap is a dot, a stroke without points is nothing', () => {
  expect(signaturePath([[{ x: 10, y: 10 }], []], { width: 600, height: 200 })).toBe('M10 10L10 10')
  expect(signaturePath([], { width: 600, height: 200 })).toBe('')
})

test('however long somebody draws, the path fits into its field and stays in the box', () => {
  const point = fc.record({
    x: fc.double({ min: -50, max: 900, noNaN: true }),
    y: fc.double({ min: -50, max: 900, noNaN: true }),
  })
  fc.assert(
    fc.property(fc.array(fc.array(point, { maxLength: 4000 }), { maxLength: 6 }), (strokes) => {
      const path = signaturePath(strokes, { width: 500, height: 300 })
      const numbers = path.match(/\d+/g)?.map(Number) ?? []
      return path.length <= 100_000 && /^[ML0-9 ]*$/.test(path) && numbers.every((each) => each <= 600)
    }),
    { numRuns: 25 },
  )
})

test('what is signed names the finding, the place and what was offered', () => {
  expect(refusalStatement({ text: 'Cover is live.' }, where)).toMatch(
    /“Cover is live”\. I was offered.*14 Quay Lane, Port Ansel\.$/s,
  )
  const statement = declinedStatement(
    [{ text: 'No bond.', correction: 'Add one.' }, { text: 'Old alarm.' }],
    where,
  )
  expect(statement).toContain('1. No bond. Offered: Add one.\n2. Old alarm.\n')
  expect(statement).toMatch(/14 Quay Lane, Port Ansel\.$/)
})
