import { expect, test } from 'vitest'
import type { ReportFinding } from '../../server/reports/content.ts'
import { headingOf, inARow, inBrief, itemWords, remarksOf } from '../../server/reports/words.ts'

test.each([
  ['Circuit 12', 'Circuit', 'Circuit 12'],
  ['Alarm, entry hall', 'Alarm', 'Alarm, entry hall'],
  ['Hall panel', 'Directory', 'Hall panel · Directory'],
  ['', 'Directory', 'Directory'],
])('%s and %s is headed %s', (place, item, heading) => expect(headingOf({ place, item })).toBe(heading))

test.each([
  ['Circuit', ['Circuit 2', 'Circuit 3'], 'Circuit 2, Circuit 3'],
  ['Alarm', ['Alarm, hall', 'Alarm, kitchen'], 'Alarm, hall; Alarm, kitchen'],
  ['Receptacle', ['Counter receptacle', 'Receptacle 3'], 'Receptacle: Counter receptacle, Receptacle 3'],
  ['Ages of the set', [], 'Ages of the set'],
])('%s at %j reads %s', (title, places, words) => expect(itemWords({ title, places })).toBe(words))

test('a comma within a name does not end it', () => {
  expect(inARow(['Kitchen', 'Hall'])).toBe('Kitchen, Hall')
  expect(inARow(['basement, unfinished', 'stairs'])).toBe('basement, unfinished; stairs')
})

test('the sentence of a rule is said in words for people, and what a technician wrote as it stands', () => {
  const verdict = {
    rule: 'overcurrent.breaker-against-conductor',
    technician: '12 AWG copper under a 30 A breaker: 20 A at most.',
    homeowner: 'This breaker is larger than its wire allows.',
    requiredWhenBuilt: 'yes',
    requiredToday: 'yes',
    references: [],
  }
  const finding = {
    text: verdict.technician,
    why: '',
    correction: '',
    makeSafe: null,
    refusal: null,
    verdict,
  }
  const given = (more: object) =>
    ({ ...finding, watchUntil: null, carried: false, ...more }) as unknown as ReportFinding
  expect(inBrief(given({}))).toBe(verdict.homeowner)
  expect(remarksOf(given({}))).toContainEqual(['In plain words', verdict.homeowner])
  expect(inBrief(given({ text: 'The wire is browned at the breaker.' }))).toBe(
    'The wire is browned at the breaker.',
  )
  expect(inBrief(given({ verdict: null }))).toBe(verdict.technician)
  // A report from before the sentence was kept beside it.
  expect(inBrief(given({ verdict: { ...verdict, technician: undefined } }))).toBe(verdict.technician)
})
