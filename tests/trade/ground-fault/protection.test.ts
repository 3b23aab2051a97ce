import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { day } from '../../../trade/dates.ts'
import { judgeProtection, protection, type ProtectionInputs } from '../../../trade/ground-fault/protection.ts'
import type { Space } from '../../../trade/property.ts'
import type { Verdict } from '../../../trade/verdict.ts'
import { articles, figure, homeOf, item, spoken, under } from '../overcurrent/verdicts.ts'

const missing = (verdict: Verdict) => (verdict.outcome === 'undetermined' ? verdict.missing : null)
type Receptacle = ProtectionInputs['receptacles'][number]
const bare = (label: string, more: Partial<Receptacle> = {}): Receptacle => ({
  label,
  groundFault: 'none',
  ...more,
})
const judge = (
  space: ProtectionInputs['space'],
  receptacles: Receptacle[],
  context = under('2023', '1999'),
) => spoken(judgeProtection({ space, receptacles }, context))
const bath = { kind: 'bathroom' } as const

describe('protection of a place', () => {
  test('a bath of 1974 predates the rule: improve, never a violation', () => {
    const verdict = judge(bath, [bare('Mirror')], under('2023', '1971'))
    expect(verdict).toMatchObject({
      rule: 'ground-fault.places',
      outcome: 'finding',
      severity: 'improve',
      requiredWhenBuilt: 'no',
      requiredToday: 'yes',
      technician:
        'Bathroom: 1 of 1 receptacles without ground-fault protection (Mirror); first asked for in the 1975 edition; would be required in new work under the 2023 edition, not when this was built.',
    })
    expect(verdict.references).toEqual([
      { code: 'NFPA 70', edition: '2023', article: '210.8(A)', row: 'bathroom receptacle' },
    ])
  })
  test('a bath of 1999 without protection is against the rule it was built under', () => {
    const verdict = judge(bath, [bare('Mirror'), { label: 'Basin', groundFault: 'itself' }])
    expect(verdict).toMatchObject({
      severity: 'repair',
      technician:
        'Bathroom: 1 of 2 receptacles without ground-fault protection (Mirror); it was required when this was built.',
      inputs: { space: 'bathroom', hasSink: null, hasTubOrShower: null, receptacles: 2, unprotected: 1 },
    })
    expect(articles(verdict)).toEqual(['210-8(a)', '210.8(A)'])
    expect(figure(verdict, 'Receptacles')).toBe(2)
    expect(figure(verdict, 'Without protection')).toBe(1)
  })
  test('a kitchen of 1989, counter away from the sink, was not yet on the list', () => {
    expect(
      judge({ kind: 'kitchen' }, [bare('Counter', { place: 'kitchen-counter' })], under('2023', '1987')),
    ).toMatchObject({
      severity: 'improve',
      technician: expect.stringContaining('first asked for in the 1996 edition'),
    })
  })
  test('a device upstream or in the panel protects as well', () => {
    for (const groundFault of ['itself', 'upstream', 'breaker'] as const) {
      expect(judge(bath, [{ label: 'Mirror', groundFault }])).toMatchObject({
        outcome: 'sound',
        technician: 'Bathroom: 1 of 1 receptacles ground-fault protected, the rest need none.',
      })
    }
  })
  test('what is not on the list of any edition in force needs none', () => {
    const finished = { kind: 'basement-finished' } as const
    expect(judge(finished, [bare('Wall')], under('2017', '1999'))).toMatchObject({
      outcome: 'not-applicable',
      why: 'no edition in force asks for it here',
      requiredToday: 'no',
    })
    expect(judge(finished, [bare('Wall')], under('2020', '1999'))).toMatchObject({ severity: 'improve' })
    expect(
      judge(finished, [bare('Wall'), { label: 'Bar', groundFault: 'itself' }], under('2017', '1999')),
    ).toMatchObject({
      outcome: 'sound',
    })
  })
  test('only receptacles of the place count', () => {
    const bedroom = { kind: 'bedroom', hasSink: true } as const
    const verdict = judge(bedroom, [bare('Bed'), bare('Basin', { place: 'near-sink' })])
    expect(verdict.technician).toMatch(
      /^Bedroom: 1 of 1 receptacles without ground-fault protection \(Basin\)/,
    )
    expect(missing(judge(bedroom, [bare('Bed')]))).toEqual([
      'Receptacles of the bedroom and what protects them',
    ])
  })
  test('unknowns are asked for, not passed', () => {
    expect(missing(judge(bath, []))).toEqual(['Receptacles of the bathroom and what protects them'])
    expect(missing(judge(bath, [{ label: 'Mirror' }]))).toEqual(['Ground-fault protected by (Mirror)'])
    expect(judge(bath, [{ label: 'Mirror' }, bare('Basin')])).toMatchObject({ outcome: 'finding' })
    expect(missing(judge(bath, [bare('Mirror')], under(null)))).toEqual(['Code edition in force'])
    expect(judge(bath, [bare('Mirror')], under(null, '1999'))).toMatchObject({ severity: 'repair' })
    expect(judge(bath, [{ label: 'Mirror' }], under('1971', '1971'))).toMatchObject({
      outcome: 'not-applicable',
    })
    expect(judge(bath, [], under('2023', '1999'))).toMatchObject({
      requiredWhenBuilt: 'yes',
      requiredToday: 'yes',
    })
  })
  test('a local change adds, removes or puts off', () => {
    const change = (effect: 'add' | 'remove' | 'postpone', requirement: string, from: string) =>
      under('2017', '1999', [{ requirement, effect, from: day(from), source: 'Port Ansel 12-3' }])
    const counter = [bare('Counter', { place: 'kitchen-counter' })]
    expect(
      judge({ kind: 'kitchen' }, counter, change('remove', 'ground-fault.places/kitchen', '2024-01-01')),
    ).toMatchObject({
      requiredToday: 'no',
      requiredWhenBuilt: 'yes',
      severity: 'repair',
    })
    const added = judge(
      { kind: 'basement-finished' },
      [bare('Wall')],
      change('add', 'ground-fault.places/basement', '2024-01-01'),
    )
    expect(added).toMatchObject({ severity: 'improve', requiredToday: 'yes' })
    expect(added.references).toEqual([
      { code: 'Port Ansel 12-3', row: 'local change adds this from 2024-01-01' },
    ])
    expect(
      judge(
        { kind: 'laundry' },
        [bare('Washer')],
        change('postpone', 'ground-fault.places/laundry', '2027-01-01'),
      ),
    ).toMatchObject({ outcome: 'not-applicable' })
  })
  test('a bathroom device that is there is good under any edition', () => {
    expect(judge(bath, [{ label: 'Mirror', groundFault: 'itself' }], under(null))).toMatchObject({
      outcome: 'sound',
      requiredToday: 'unknown',
    })
  })
  test('the order of receptacles does not matter', () => {
    const receptacle = fc.record({
      label: fc.constantFrom('A', 'B', 'C', 'D'),
      groundFault: fc.constantFrom('none', 'itself', 'upstream', undefined),
      place: fc.constantFrom('near-tub', 'general', undefined),
    })
    fc.assert(
      fc.property(fc.uniqueArray(receptacle, { selector: (each) => each.label, maxLength: 4 }), (list) => {
        expect(judge(bath, list.toReversed())).toEqual(judge(bath, list))
      }),
    )
  })
})

describe('inputs of a space', () => {
  const space = (kind: Space['kind'], more: Partial<Space> = {}): Space => ({
    id: 's',
    kind,
    name: kind,
    level: 0,
    ...more,
  })
  const receptacle = item(
    'r',
    'receptacle',
    { groundFault: 'none', place: 'near-sink', slots: 'three' },
    { spaceId: 's', label: 'Left' },
  )
  test('a bedroom has nothing to say unless water is near', () => {
    expect(protection.inputs(space('bedroom'), homeOf())).toBeNull()
    expect(protection.inputs(space('bedroom', { hasSink: true }), homeOf())).toEqual({
      space: { kind: 'bedroom', hasSink: true, hasTubOrShower: undefined },
      receptacles: [],
    })
    expect(protection.inputs(space('bedroom'), homeOf(receptacle))?.receptacles).toHaveLength(1)
  })
  test('receptacles of other spaces and other equipment stay out', () => {
    const elsewhere = item('q', 'receptacle', { groundFault: 'none' }, { spaceId: 'other' })
    const lamp = item('l', 'luminaire', {}, { spaceId: 's' })
    expect(protection.inputs(space('bathroom'), homeOf(receptacle, elsewhere, lamp))).toEqual({
      space: { kind: 'bathroom', hasSink: undefined, hasTubOrShower: undefined },
      receptacles: [{ label: 'Left', groundFault: 'none', place: 'near-sink' }],
    })
  })
  test('every fact that can decide is handed on', () => {
    const details = {
      place: 'wet',
      volts: 240,
      amps: 30,
      heightInches: 12,
      dedicatedAppliance: true,
      partOfAppliance: true,
      groundFault: 'breaker',
      replacedOnOrAfterBuild: true,
    } as const
    const home = homeOf(item('r', 'receptacle', details, { spaceId: 's', label: 'L' }))
    expect(protection.inputs(space('laundry'), home)?.receptacles).toEqual([{ label: 'L', ...details }])
    expect(protection.watches).toEqual(['receptacle'])
    expect(protection.judge({ space: bath, receptacles: [] }, under(null)).rule).toBe(protection.id)
  })
})
