import { expect, test } from 'vitest'
import { MESSAGE_KINDS } from '../../server/messages/categories.ts'
import { KINDS } from '../../web/office/messages/words.tsx'

test('the list of letters is filtered by kinds that there are: the API refuses others', () => {
  expect(Object.keys(KINDS).sort()).toEqual(Object.keys(MESSAGE_KINDS).sort())
})
