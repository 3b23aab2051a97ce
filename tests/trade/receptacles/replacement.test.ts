import { describe, expect, test } from 'vitest'
import { day } from '../../../trade/dates.ts'
import { EQUIPMENT_FIELDS } from '../../../trade/equipment.ts'
import type { SpaceKind } from '../../../trade/property.ts'
import { receptacleCondition, judgeReceptacleCondition } from '../../../trade/receptacles/condition.ts'
import { replacementNeeds, type ReplacementInputs } from '../../../trade/receptacles/replacement.ts'
import type { Verdict } from '../../../trade/verdict.ts'
import { homeOf, item, spoken, under } from '../overcurrent/verdicts.ts'

const FIELDS = EQUIPMENT_FIELDS.receptacle
const missing = (verdict: Verdict) => (verdict.outcome === 'undetermined' ? verdict.missing : null)
const inRoom = (kind: SpaceKind, details: object) => {
  const one = item('r', 'receptacle', details, { spaceId: 's' })
  return [one, { ...homeOf(one), spaces: [{ id: 's', kind, name: kind, level: 0 }] }] as const
}
const OPTIONS =
  'options: (a) a two-slot receptacle again, (b) a ground-fault receptacle marked "No Equipment Ground", (c) a three-slot receptacle behind a ground-fault device, marked "GFCI Protected" and "No Equipment Ground"'

describe('what a replacement must be, NFPA 70 406.4(D)', () => {
  const needs = (inputs: Partial<ReplacementInputs>, context = under('2020', '1953')) =>
    replacementNeeds({ spaceKind: 'bedroom', ...inputs }, context).map(({ need, required }) =>
      required === 'yes' ? need : `${need}?`,
    )
  test('a two-slot outlet in a bedroom of 1955 under the 2020 edition', () => {
    const old = { slots: 'two', groundPresent: false } as const
    expect(needs(old)).toEqual(['ungrounded-options', 'arc-fault', 'tamper-resistant'])
    expect(needs({ ...old, twoSlotAgain: true })).toEqual(['arc-fault'])
    const all = replacementNeeds({ spaceKind: 'bedroom', ...old }, under('2020', '1953'))
    expect(all.map(({ article, words }) => [article, words])).toEqual([
      ['406.4(D)(2)', `no equipment ground: ${OPTIONS}`],
      ['406.4(D)(4)', 'arc-fault protected'],
      ['406.4(D)(5)', 'tamper-resistant'],
    ])
  })
  test('in a room nobody wrote down, what no room asks of such an outlet is not in doubt', () => {
    const anywhere = { spaceKind: null, groundPresent: true, place: 'general' } as const
    expect(needs(anywhere)).toContain('tamper-resistant?')
    for (const exempt of [{ heightInches: 72 }, { amps: 30 }, { partOfAppliance: true }]) {
      expect(needs({ ...anywhere, ...exempt }).join()).not.toMatch(/tamper/)
    }
  })
  test.each([
    [{ groundPresent: true }, '2020', ['grounding-type', 'arc-fault', 'tamper-resistant']],
    [{ groundPresent: true }, '2008', ['grounding-type']],
    [{ groundPresent: true }, '2011', ['grounding-type', 'arc-fault', 'tamper-resistant']],
    [
      { groundPresent: true, spaceKind: 'bathroom' },
      '2020',
      ['grounding-type', 'ground-fault', 'tamper-resistant'],
    ],
    [{ groundPresent: true, spaceKind: 'bathroom' }, '1990', ['grounding-type']],
    [{ groundPresent: true, spaceKind: 'bathroom' }, '1993', ['grounding-type', 'ground-fault']],
    [
      { groundPresent: true, spaceKind: 'outdoors', place: 'wet', heightInches: 20 },
      '2020',
      ['grounding-type', 'ground-fault', 'tamper-resistant', 'weather-resistant'],
    ],
    [{ groundPresent: true, heightInches: 72 }, '2020', ['grounding-type', 'arc-fault']],
    [
      { groundPresent: true, spaceKind: 'garage' },
      '2020',
      ['grounding-type', 'ground-fault', 'tamper-resistant'],
    ],
    [{}, '2020', ['grounding-type?', 'arc-fault', 'tamper-resistant']],
  ] as const)('%o under %s: %o', (inputs, edition, expected) => {
    expect(needs(inputs, under(edition, '1953'))).toEqual(expected)
  })
  test('arc-fault replacements took effect on 2014-01-01', () => {
    const early = { ...under('2011', '1953'), today: day('2013-12-31') }
    expect(needs({ groundPresent: true }, early)).toEqual(['grounding-type', 'tamper-resistant'])
  })
  test('what cannot be told is marked so, never left out', () => {
    expect(needs({ groundPresent: true, spaceKind: null })).toEqual([
      'grounding-type',
      'ground-fault?',
      'arc-fault?',
      'tamper-resistant?',
      'weather-resistant?',
    ])
    expect(needs({ groundPresent: true }, under(null))).toEqual([
      'grounding-type',
      'arc-fault?',
      'tamper-resistant?',
    ])
  })
  const judge = (
    inputs: Partial<Parameters<typeof judgeReceptacleCondition>[0]>,
    context = under('2020', '1953'),
  ) => spoken(judgeReceptacleCondition({ spaceKind: 'bedroom', ...inputs }, context))
  test.each([
    ['burnt', 'unsafe', 'Receptacle with burn marks'],
    ['cracked', 'repair', 'Receptacle cracked'],
    ['loose', 'repair', 'Receptacle loose or does not grip'],
  ] as const)('a %s receptacle: %s, with what a new one must be', (condition, severity, technician) => {
    const verdict = judge({ condition, groundPresent: true })
    expect(verdict).toMatchObject({
      rule: 'receptacles.condition',
      severity,
      technician: `${technician}; its replacement: grounding type, arc-fault protected, tamper-resistant.`,
    })
    expect(verdict.references).toEqual([
      { code: 'NFPA 70', article: '110.12(B)' },
      { code: 'NFPA 70', edition: '2020', article: '406.4(D)(1)' },
      { code: 'NFPA 70', edition: '2020', article: '406.4(D)(4)' },
      { code: 'NFPA 70', edition: '2020', article: '406.4(D)(5)' },
    ])
  })
  test('doubtful needs carry a question mark', () => {
    expect(judge({ condition: 'loose' }, under(null)).technician).toBe(
      'Receptacle loose or does not grip; its replacement: grounding type?, arc-fault protected?, tamper-resistant?.',
    )
  })
  test('sound or unknown', () => {
    expect(judge({ condition: 'sound' })).toMatchObject({
      outcome: 'sound',
      technician: 'Receptacle sound.',
      references: [{ code: 'NFPA 70', article: '110.12(B)' }],
    })
    expect(missing(judge({}))).toEqual([FIELDS.condition.label])
  })
  test('inputs', () => {
    const details = {
      condition: 'burnt',
      groundPresent: true,
      place: 'near-sink',
      slots: 'three',
      volts: 125,
      amps: 20,
      heightInches: 40,
      dedicatedAppliance: false,
      partOfAppliance: false,
    } as const
    const [one, home] = inRoom('kitchen', details)
    expect(receptacleCondition.inputs(one, home)).toEqual({
      ...details,
      spaceKind: 'kitchen',
      hasSink: undefined,
      hasTubOrShower: undefined,
    })
    expect(receptacleCondition.inputs(one, homeOf(one)).spaceKind).toBeNull()
    expect(receptacleCondition.judge({ spaceKind: null }, under(null)).rule).toBe(receptacleCondition.id)
  })
})
