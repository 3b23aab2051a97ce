import { describe, expect, test } from 'vitest'
import { day } from '../../../trade/dates.ts'
import { EQUIPMENT_FIELDS } from '../../../trade/equipment.ts'
import type { SpaceKind } from '../../../trade/property.ts'
import {
  groundingReceptacleRequirement,
  type GroundingInputs,
  judgeReceptacleGrounding,
  receptacleGrounding,
} from '../../../trade/receptacles/grounding.ts'
import { clocksOf } from '../../../trade/requirement.ts'
import type { Verdict } from '../../../trade/verdict.ts'
import { articles, homeOf, item, spoken, under } from '../overcurrent/verdicts.ts'

const FIELDS = EQUIPMENT_FIELDS.receptacle
const missing = (verdict: Verdict) => (verdict.outcome === 'undetermined' ? verdict.missing : null)
const answer = (verdict: Verdict) => (verdict.outcome === 'finding' ? verdict.severity : verdict.outcome)
const inRoom = (kind: SpaceKind, details: object) => {
  const one = item('r', 'receptacle', details, { spaceId: 's' })
  return [one, { ...homeOf(one), spaces: [{ id: 's', kind, name: kind, level: 0 }] }] as const
}
const OPTIONS =
  'options: (a) a two-slot receptacle again, (b) a ground-fault receptacle marked "No Equipment Ground", (c) a three-slot receptacle behind a ground-fault device, marked "GFCI Protected" and "No Equipment Ground"'

describe('ground of a receptacle, NFPA 70 406.4(D)', () => {
  const judge = (inputs: Partial<GroundingInputs>, context = under('2023', '1999')) =>
    spoken(judgeReceptacleGrounding({ spaceKind: 'bedroom', ...inputs }, context))
  const open = { slots: 'three', groundPresent: false } as const
  test('three slots, no ground, no protection: the three options', () => {
    const verdict = judge({ ...open, groundFault: 'none' })
    expect(verdict).toMatchObject({
      rule: 'receptacles.grounding',
      outcome: 'finding',
      severity: 'repair',
      technician: `Three-slot receptacle without equipment ground or ground-fault protection; ${OPTIONS}.`,
    })
    expect(verdict.references).toContainEqual({
      code: 'NFPA 70',
      article: '406.4(D)(2)',
      row: 'no equipment ground in the box',
    })
  })
  test('with a ground in the box, the quality of the ground stays untested', () => {
    expect(judge({ slots: 'three', groundPresent: true })).toMatchObject({
      outcome: 'sound',
      technician: 'Three-slot receptacle, equipment ground in the box; ground quality not tested.',
    })
  })
  test.each([
    [
      'itself',
      { noGroundMarked: true },
      'sound',
      'Ungrounded receptacle, ground-fault protected and marked.',
    ],
    [
      'itself',
      { noGroundMarked: false },
      'repair',
      'Ungrounded receptacle with ground-fault protection, not marked "No Equipment Ground".',
    ],
    [
      'upstream',
      { noGroundMarked: true, groundFaultMarked: true },
      'sound',
      'Ungrounded receptacle, ground-fault protected and marked.',
    ],
    [
      'breaker',
      { noGroundMarked: true, groundFaultMarked: false },
      'repair',
      'Ungrounded receptacle with ground-fault protection, not marked "GFCI Protected".',
    ],
    [
      'upstream',
      { noGroundMarked: false, groundFaultMarked: false },
      'repair',
      'Ungrounded receptacle with ground-fault protection, not marked "GFCI Protected" and not marked "No Equipment Ground".',
    ],
    [
      'itself',
      { noGroundMarked: true, groundFaultMarked: false },
      'sound',
      'Ungrounded receptacle, ground-fault protected and marked.',
    ],
  ] as const)('protected by %s, %o: %s', (groundFault, marks, expected, technician) => {
    const verdict = judge({ ...open, groundFault, ...marks })
    expect(answer(verdict)).toBe(expected)
    expect(verdict.technician).toBe(technician)
  })
  test.each([
    [{}, [FIELDS.slots.label]],
    [{ slots: 'three' }, [FIELDS.groundPresent.label]],
    [open, [FIELDS.groundFault.label]],
    [{ ...open, groundFault: 'itself' }, [FIELDS.noGroundMarked.label]],
    [{ ...open, groundFault: 'upstream' }, [FIELDS.groundFaultMarked.label, FIELDS.noGroundMarked.label]],
  ] as const)('%o leaves it open', (inputs, labels) => {
    expect(missing(judge(inputs))).toEqual(labels)
  })
  test.each([
    // Grounding type everywhere: 1971 with effect 1974, or 1975; sources differ.
    ['bedroom', '1968', 'improve', 'no'],
    ['bedroom', '1971', 'improve', 'unknown'],
    ['bedroom', '1975', 'repair', 'yes'],
    ['laundry', '1940', 'improve', 'no'],
    ['laundry', '1947', 'repair', 'yes'],
    ['laundry', '1959', 'repair', 'yes'],
    ['garage', '1953', 'improve', 'no'],
    ['garage', '1956', 'repair', 'yes'],
    ['outdoors', '1956', 'repair', 'yes'],
  ] as const)('two slots in the %s of %s: %s', (spaceKind, built, severity, requiredWhenBuilt) => {
    expect(judge({ slots: 'two', spaceKind }, under('2023', built))).toMatchObject({
      severity,
      requiredWhenBuilt,
    })
  })
  test('two slots: options, and what is asked when replaced', () => {
    expect(judge({ slots: 'two' }, under('2023', '1953')).technician).toBe(
      `Two-slot receptacle; ${OPTIONS}; would be required in new work under the 2023 edition, not when this was built.`,
    )
    const grounded = { slots: 'two', groundPresent: true } as const
    expect(judge(grounded, under('2023', '1953'))).toMatchObject({
      severity: 'improve',
      technician: expect.stringMatching(
        /^Two-slot receptacle with an equipment ground in the box: grounding type when replaced; would/,
      ),
    })
    const replaced = judge({ ...grounded, replacedOnOrAfterBuild: true }, under('2023', '1953'))
    expect(replaced).toMatchObject({
      severity: 'repair',
      technician:
        'Two-slot receptacle with an equipment ground in the box: grounding type when replaced; it has been replaced since.',
    })
    expect(articles(replaced)).toContain('406.4(D)(1)')
    expect(missing(judge({ slots: 'two' }, under(null)))).toEqual(['Code edition in force'])
  })
  test('articles by edition; a local change by place', () => {
    const article = (edition: '1975' | '2002') =>
      clocksOf(groundingReceptacleRequirement(null), under(edition)).references[0]!.article
    expect([article('1975'), article('2002')]).toEqual(['210-7', '406.4(A)'])
    const dropped = under('2023', '1953', [
      {
        requirement: 'receptacles.grounding/bedroom',
        effect: 'remove',
        from: day('2024-01-01'),
        source: 'x',
      },
    ])
    expect(judge({ slots: 'two' }, dropped)).toMatchObject({ outcome: 'not-applicable' })
    expect(judge({ slots: 'two', spaceKind: 'hall' }, dropped)).toMatchObject({ severity: 'improve' })
    expect(groundingReceptacleRequirement('hall')).toBe(groundingReceptacleRequirement('hall'))
  })
  test('inputs', () => {
    const details = {
      slots: 'three',
      groundPresent: false,
      groundFault: 'none',
      noGroundMarked: true,
      groundFaultMarked: false,
      replacedOnOrAfterBuild: true,
    } as const
    const [one, home] = inRoom('laundry', { ...details, volts: 125 })
    expect(receptacleGrounding.inputs(one, home)).toEqual({ ...details, spaceKind: 'laundry' })
    expect(receptacleGrounding.inputs(one, homeOf(one)).spaceKind).toBeNull()
    expect(receptacleGrounding.judge({ spaceKind: null }, under(null)).rule).toBe(receptacleGrounding.id)
  })
})
