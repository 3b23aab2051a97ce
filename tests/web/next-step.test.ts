import { expect, test } from 'vitest'
import { nextInWords, spanInWords } from '../../web/office/due/next-step.ts'

test.each([
  [1, '1 day'],
  [59, '59 days'],
  [60, '2 months'],
  [365, '12 months'],
  [729, '24 months'],
  [730, '2 years'],
  [742, '2 years'],
])('%i days are %s', (days, words) => {
  expect(spanInWords(days)).toBe(words)
})

const row = { messageState: null, notArrived: null, customerEmail: 'robin@example.com' }
const next = (how: string, more = {}) => ({ how, on: null, overdueWhenSeen: null, ...more }) as never

test.each([
  [{ ...row, next: next('call', { overdueWhenSeen: 742 }) }, 'By telephone: 2 years overdue when first seen'],
  [{ ...row, next: next('call') }, 'By telephone'],
  [{ ...row, customerEmail: null, next: next('call') }, 'By telephone: no e-mail'],
  [
    { ...row, messageState: 'bounced', next: next('mail', { on: '2026-06-05' }) },
    'By telephone: our mail came back',
  ],
  [
    { ...row, messageState: 'failed', notArrived: 'failed', next: next('call') },
    'By telephone: our mail could not be sent',
  ],
  [
    { ...row, messageState: 'suppressed', notArrived: 'suppressed', next: next('call') },
    'By telephone: no mail goes to their address',
  ],
  [{ ...row, next: next('mail', { on: '2026-06-05' }) }, 'By e-mail on Jun 5, 2026'],
  [{ ...row, next: next('mail') }, 'By e-mail, with the next round'],
  [{ ...row, next: next('rests', { on: '2026-06-05' }) }, 'Put off until Jun 5, 2026'],
  [{ ...row, next: next('nothing') }, 'No letter follows: phone or dismiss'],
  [{ ...row, next: null }, null],
] as const)('what is next, in words: %#', (given, words) => {
  expect(nextInWords(given)).toBe(words)
})
