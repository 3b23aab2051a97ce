import { expect, test } from 'vitest'
import { shortened } from '../../server/shortened.ts'

test('a long text is cut between words, a short one is left alone, and a word without end is cut anyway', () => {
  expect(shortened('Hall alarm', 60)).toBe('Hall alarm')
  expect(shortened('Working space: clear width 26 in, 30 in wanted', 20)).toBe('Working space: clear …')
  expect(shortened('x'.repeat(30), 10)).toBe(`${'x'.repeat(10)} …`)
  expect(shortened('  two\n lines ', 60)).toBe('two lines')
})
