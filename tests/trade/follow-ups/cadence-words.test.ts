import { expect, test } from 'vitest'
import { cadenceText, readCadence } from '../../../trade/follow-ups/cadence-words.ts'
import { FOLLOW_UP_KINDS } from '../../../trade/follow-ups/kinds.ts'

test.each(Object.values(FOLLOW_UP_KINDS).map((kind) => [kind.id, kind.cadence] as const))(
  'the notices of %s are read back as they are written',
  (_, cadence) => {
    expect(readCadence(cadenceText(cadence))).toEqual(cadence)
  },
)

test.each([
  [
    '30, −7 mail , 14 CALL+letter',
    [
      [-7, ['mail']],
      [14, ['call', 'letter']],
      [30, ['mail']],
    ],
  ],
  ['+3', [[3, ['mail']]]],
])('%s', (text, wanted) => {
  const read = readCadence(text) as { steps: { days: number; by: string[] }[] }
  expect(read.steps.map(({ days, by }) => [days, by])).toEqual(wanted)
})

test.each([
  ['0 mail, then every 12 months', { every: 12, unit: 'months', by: ['mail'] }],
  ['0, THEN  every 1 day call+letter ', { every: 1, unit: 'days', by: ['call', 'letter'] }],
])('%s repeats', (text, then) => {
  expect(readCadence(text)).toMatchObject({ then })
})

test.each([
  [{ every: 1, unit: 'days', by: ['call'] }, '0 mail, then every 1 day call'],
  [{ every: 6, unit: 'months', by: ['mail', 'letter'] }, '0 mail, then every 6 months mail+letter'],
] as const)('%j is written %s', (then, text) => {
  expect(cadenceText({ steps: [{ days: 0, by: ['mail'] }], then })).toBe(text)
})

test.each([
  ['', '“” is no notice'],
  ['then every 12 months mail', '“then every 12 months mail” is no notice'],
  ['0 mail, then every year', '“then every year” is no repeat; write it like'],
  ['0 mail, then every 0 days mail', 'is no repeat'],
  ['0 mail, then every 2 months fax', '“fax” is not one of'],
  ['then every 2 months mail, 0 mail', 'is no notice'],
  ['7 mail, 3 call, 7 call', 'Two notices on day 7; keep one'],
  ['soon', '“soon” is no notice'],
  ['5 days', '“days” is not one of'],
  ['7 mail,', '“” is no notice'],
  ['7 fax', '“fax” is not one of mail, call, letter.'],
  ['4000', '“4000” is no notice'],
])('“%s” is refused', (text, why) => {
  expect((readCadence(text) as { fault: string }).fault).toContain(why)
})
