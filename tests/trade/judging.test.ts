import { describe, expect, test } from 'vitest'
import { number, yesNo } from '../../trade/fields.ts'
import {
  type Basis,
  EDITION_MISSING,
  finding,
  missingOf,
  notApplicable,
  onClocks,
  shortfall,
  sound,
  standingPhrase,
  tidy,
  undetermined,
} from '../../trade/judging.ts'
import type { Clocks } from '../../trade/requirement.ts'
import type { Required } from '../../trade/verdict.ts'
import { under } from './overcurrent/verdicts.ts'

const basis: Basis = { rule: 'a.rule', inputs: { amps: 20, marked: undefined }, references: [] }
const words = { technician: 'Said to one', homeowner: 'Said to the other.' }

describe('a verdict', () => {
  test('carries its basis; what was not recorded is null, and both clocks are open until somebody sets them', () => {
    expect(sound(basis, words)).toEqual({
      outcome: 'sound',
      rule: 'a.rule',
      references: [],
      inputs: { amps: 20, marked: null },
      figures: [],
      requiredWhenBuilt: 'unknown',
      requiredToday: 'unknown',
      ...words,
    })
    expect(basis.inputs).toEqual({ amps: 20, marked: undefined })
  })
  test('keeps nought, no and the empty text as they are', () => {
    const inputs = { none: 0, no: false, blank: '', gone: null }
    expect(sound({ ...basis, inputs }, words).inputs).toEqual(inputs)
  })
  test('has the clocks and figures it was given', () => {
    const figures = [{ label: 'Ampacity', value: 25, unit: 'A' as const }]
    expect(finding({ ...basis, figures, whenBuilt: 'no', today: 'yes' }, 'watch', words)).toMatchObject({
      outcome: 'finding',
      severity: 'watch',
      figures,
      requiredWhenBuilt: 'no',
      requiredToday: 'yes',
      ...words,
    })
  })
  test('names all that is missing', () => {
    const open = undetermined(basis, ['Length', 'Clamp'])
    expect(open).toMatchObject({ outcome: 'undetermined', missing: ['Length', 'Clamp'] })
    expect(open.technician).toMatch(/Length; Clamp/)
  })
  test('says why it does not apply', () => {
    const none = notApplicable(basis, 'no gas in the home')
    expect(none).toMatchObject({ outcome: 'not-applicable', why: 'no gas in the home' })
    expect(none.technician).toMatch(/no gas in the home/)
  })
})

describe('the basis with clocks', () => {
  const clocks: Clocks = {
    whenBuilt: 'no',
    today: 'yes',
    references: [{ code: 'NFPA 70', article: '230.67' }],
  }
  const { rule, inputs } = basis
  test('takes clocks and references over, and further references after them', () => {
    expect(onClocks({ rule, inputs }, clocks)).toEqual({ ...basis, ...clocks })
    expect(onClocks({ rule, inputs }, clocks, [{ code: 'UL 1449' }]).references).toEqual([
      { code: 'NFPA 70', article: '230.67' },
      { code: 'UL 1449' },
    ])
  })
  test('shares no list with the clocks, which many verdicts are made from', () => {
    onClocks({ rule, inputs }, clocks).references.push({ code: 'UL 1449' })
    expect(clocks.references).toHaveLength(1)
  })
})

describe('what falls short', () => {
  const judge = (whenBuilt?: Required, today?: Required) =>
    shortfall({ ...basis, whenBuilt, today }, under('2023'), words, 'unsafe')
  test.each<[Required | undefined, Required | undefined, string]>([
    ['yes', 'yes', 'unsafe'],
    ['yes', 'no', 'unsafe'],
    ['yes', 'unknown', 'unsafe'],
    ['no', 'yes', 'improve'],
    ['unknown', 'yes', 'improve'],
    [undefined, 'yes', 'improve'],
  ])('required when built: %s, today: %s; %s', (whenBuilt, today, severity) => {
    expect(judge(whenBuilt, today)).toMatchObject({ outcome: 'finding', severity })
  })
  test.each<[Required | undefined, Required | undefined]>([
    ['unknown', 'no'],
    ['no', 'unknown'],
    [undefined, undefined],
    ['no', undefined],
    [undefined, 'no'],
  ])('required when built: %s, today: %s; nobody can tell', (whenBuilt, today) => {
    expect(judge(whenBuilt, today)).toMatchObject({ outcome: 'undetermined', missing: [EDITION_MISSING] })
  })
  test('asked for by no edition it does not matter', () => {
    expect(judge('no', 'no').outcome).toBe('not-applicable')
  })
  test('is repaired unless the rule says otherwise; the technician reads where it stands, the homeowner does not', () => {
    const repair = shortfall({ ...basis, whenBuilt: 'yes', today: 'yes' }, under('2023'), words)
    expect(repair).toMatchObject({ severity: 'repair', homeowner: words.homeowner })
    expect(repair.technician).toBe(`Said to one; ${standingPhrase('yes', 'yes', under('2023'))}.`)
  })
})

describe('where a requirement stands', () => {
  test.each<[Required, Required, RegExp]>([
    ['yes', 'yes', /required when this was built/],
    ['yes', 'no', /required when this was built/],
    ['no', 'yes', /would be required in new work under the 2023 edition, not when this was built/],
    ['unknown', 'yes', /would be required in new work under the 2023 edition$/],
    ['no', 'no', /not asked for in new work/],
    ['no', 'unknown', /not asked for in new work/],
  ])('when built %s, today %s', (whenBuilt, today, phrase) => {
    expect(standingPhrase(whenBuilt, today, under('2023'))).toMatch(phrase)
  })
  test('by local change alone, without an edition', () => {
    expect(standingPhrase('unknown', 'yes', under(null))).toBe('would be required in new work here')
  })
})

test('of the details wanted, those not filled in are named as on the form; nought and no are filled in', () => {
  const fields = {
    feet: number('Length', 'ft', 0, 10),
    amps: number('Rating', 'A', 0, 10),
    tied: yesNo('Tied'),
    seen: yesNo('Seen'),
  }
  expect(missingOf(fields, { feet: 0, tied: false }, ['feet', 'amps', 'tied'])).toEqual(['Rating'])
  expect(missingOf(fields, { feet: undefined }, ['seen', 'feet'])).toEqual(['Seen', 'Length'])
})

test.each([
  [5.589, '5.59'],
  [0.0254, '0.0254'],
  [8, '8'],
  [8.0001, '8'],
  [1234, '1230'],
])('%f is written %s', (value, written) => {
  expect(tidy(value)).toBe(written)
})
