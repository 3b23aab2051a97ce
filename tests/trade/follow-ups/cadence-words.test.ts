import { expect, test } from 'vitest'
import { cadenceText, readCadence } from '../../../trade/follow-ups/cadence-words.ts'
import { FOLLOW_UP_KINDS } from '../../../trade/follow-ups/kinds.ts'

test.each(Object.values(FOLLOW_UP_KINDS).map((kind) => [kind.id, kind.cadence] as const))(
  'the notices of %s are read back as they are written',
  (_, cadence) => {
    expect(readCadence(cadenceText(cadence))).toEqual({ steps: cadence.steps })
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
  ['', '“” is no notice'],
  ['soon', '“soon” is no notice'],
  ['5 days', '“days” is not one of'],
  ['7 mail,', '“” is no notice'],
  ['7 fax', '“fax” is not one of mail, call, letter.'],
  ['4000', '“4000” is no notice'],
])('“%s” is refused', (text, why) => {
  expect((readCadence(text) as { fault: string }).fault).toContain(why)
})
