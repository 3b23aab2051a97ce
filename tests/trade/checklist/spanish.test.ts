import { expect, test } from 'vitest'
import { CHECKLIST } from '../../../trade/checklist/checklist.ts'
import { spanishTitle } from '../../../trade/checklist/spanish.ts'

const ITEMS = CHECKLIST.areas.flatMap(({ items }) => items.map(({ id }) => id))

test.each(ITEMS)('%s has a Spanish name that stands inside a sentence', (id) => {
  const title = spanishTitle(id)
  expect(title).not.toBe(spanishTitle('of.no-list'))
  expect(title).toMatch(/^\p{Ll}[^.]+[^.\s]$/u)
})

test('an item of a list that is no longer used has words that fit any', () => {
  expect(spanishTitle('panel.cover')).toBe('un punto de la instalación eléctrica')
})
