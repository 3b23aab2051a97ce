import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  CONDUCTOR_SIZES,
  type ConductorMaterial,
  type ConductorSize,
} from '../../../trade/conductors/sizes.ts'
import { EDITIONS, type Edition } from '../../../trade/editions.ts'
import { EQUIPMENT_FIELDS } from '../../../trade/equipment.ts'
import { EDITION_MISSING } from '../../../trade/judging.ts'
import {
  breakerAgainstConductor,
  type BreakerInputs,
  judgeBreaker,
} from '../../../trade/overcurrent/breaker-against-conductor.ts'
import type { Verdict } from '../../../trade/verdict.ts'
import { articles, figure, homeOf, item, spoken, under } from './verdicts.ts'

const judge = (inputs: BreakerInputs, now: Edition | null = '2023', built: Edition | null = null) =>
  spoken(judgeBreaker(inputs, under(now, built)))
const cu = (size: ConductorSize, ratingAmps: number, more: BreakerInputs = {}): BreakerInputs => ({
  size,
  material: 'copper',
  ratingAmps,
  serves: 'receptacles',
  insulationC: '90',
  terminalC: '75',
  ...more,
})

describe('small conductors, NFPA 70 240.4(D)', () => {
  test.each<[ConductorSize, ConductorMaterial, number, string, string | undefined]>([
    ['14', 'copper', 15, 'sound', undefined],
    ['14', 'copper', 20, 'finding', 'repair'],
    ['14', 'copper', 25, 'finding', 'repair'],
    ['14', 'copper', 30, 'finding', 'unsafe'],
    ['12', 'copper', 20, 'sound', undefined],
    ['12', 'copper', 25, 'finding', 'repair'],
    ['12', 'copper', 40, 'finding', 'unsafe'],
    ['10', 'copper', 30, 'sound', undefined],
    ['10', 'copper', 35, 'finding', 'repair'],
    ['12', 'aluminium', 15, 'sound', undefined],
    ['12', 'aluminium', 20, 'finding', 'repair'],
    ['12', 'aluminium', 30, 'finding', 'unsafe'],
    ['12', 'copper-clad', 30, 'finding', 'unsafe'],
    ['10', 'aluminium', 25, 'sound', undefined],
    ['10', 'copper-clad', 30, 'finding', 'repair'],
    ['2', 'copper', 15, 'sound', undefined],
  ])('%s %s under %i A: %s %s', (size, material, ratingAmps, outcome, severity) => {
    const verdict = judge({ ...cu(size, ratingAmps), material })
    expect(verdict.outcome).toBe(outcome)
    expect('severity' in verdict ? verdict.severity : undefined).toBe(severity)
  })

  test('20 A over 14 AWG says it in one line, with its article and figures', () => {
    const verdict = judge({ size: '14', material: 'copper', ratingAmps: 20 })
    expect(verdict).toMatchObject({
      rule: 'overcurrent.breaker-against-conductor',
      outcome: 'finding',
      severity: 'repair',
      technician: '14 AWG copper under a 20 A breaker: 15 A at most.',
      homeowner:
        'This breaker is larger than its wire allows, so the wire could run hot before the breaker switches off. A smaller one, or a thicker wire, puts it right.',
      requiredToday: 'yes',
      requiredWhenBuilt: 'unknown',
      inputs: { size: '14', material: 'copper', ratingAmps: 20 },
    })
    expect(verdict.references).toEqual([
      { code: 'NFPA 70', edition: '2023', article: '240.4(D)', row: '14 AWG' },
      { code: 'NFPA 70', edition: '2023', article: 'Table 310.16', row: '14 AWG copper' },
      { code: 'NFPA 70', edition: '2023', article: '110.14(C)(1)', row: '75 °C terminals' },
    ])
    expect(verdict.figures).toEqual([
      { label: 'Device', value: 20, unit: 'A' },
      { label: 'Ampacity in the table', value: 25, unit: 'A' },
      { label: 'Ambient factor', value: 1, unit: 'count' },
      { label: 'Bundling factor', value: 1, unit: 'count' },
      { label: 'Usable ampacity', value: 20, unit: 'A' },
      { label: 'Largest device', value: 15, unit: 'A' },
    ])
  })

  test('30 A over 12 AWG copper-clad: 15 A at most, and beyond the insulation', () => {
    expect(judge({ ...cu('12', 30), material: 'copper-clad' })).toMatchObject({
      severity: 'unsafe',
      technician:
        '12 AWG copper-clad aluminium under a 30 A breaker: 15 A at most; more than the insulation itself bears (25 A).',
      homeowner:
        'This breaker lets more current through than the wire can bear: it can overheat before the breaker switches off.',
    })
  })

  test('a sound circuit says how far its conductor goes; a fuse is called a fuse', () => {
    expect(judge(cu('12', 20, { device: 'fuse' }))).toMatchObject({
      outcome: 'sound',
      technician: '12 AWG copper under a 20 A fuse: up to 20 A.',
      homeowner: 'This fuse suits the wire it protects.',
    })
    expect(judge(cu('12', 15)).technician).toBe('12 AWG copper under a 15 A breaker: up to 20 A.')
  })

  test('240.4(D)(3): 14 AWG copper-clad takes 10 A since 2023; before, the table had no such conductor', () => {
    const clad = { ...cu('14', 10), material: 'copper-clad' } as const
    expect(judge(clad).outcome).toBe('sound')
    expect(judge({ ...clad, ratingAmps: 15 })).toMatchObject({
      outcome: 'finding',
      severity: 'repair',
      technician: '14 AWG copper-clad aluminium under a 15 A breaker: 10 A at most.',
    })
    expect(judge({ ...clad, ratingAmps: 30 })).toMatchObject({
      severity: 'unsafe',
      technician:
        '14 AWG copper-clad aluminium under a 30 A breaker: 10 A at most; more than even the thinnest listed conductor bears.',
    })
    expect(judge({ ...clad, ratingAmps: 20 }, '2020').outcome).toBe('finding')
    expect(judge(clad, '2020')).toMatchObject({
      outcome: 'finding',
      severity: 'investigate',
      technician:
        '14 AWG copper-clad aluminium under a 10 A breaker: the table has no such conductor; check size and material (tinned copper?).',
    })
  })

  test.each<[ConductorSize, number, Edition | null, string]>([
    ['16', 10, '2023', 'investigate'],
    ['16', 15, '2023', 'repair'],
    ['16', 15, null, 'repair'],
    ['16', 15, '2020', 'investigate'],
    ['16', 20, '2020', 'repair'],
  ])(
    '240.4(D): %s AWG copper-clad at %i A by %s, no better than the next thicker',
    (size, amps, now, grave) => {
      expect(judge({ ...cu(size, amps), material: 'copper-clad' }, now)).toMatchObject({ severity: grave })
    },
  )

  test.each<[string, BreakerInputs, number]>([
    [
      '14 AWG copper-clad, 10 conductors: 10 × 0.5',
      { ...cu('14', 10), material: 'copper-clad', bundled: 10 },
      5,
    ],
    ['16 AWG, 60 °C insulation, 10 conductors', cu('16', 10, { insulationC: '60', bundled: 10 }), 5],
  ])('240.4(D), 310.15(C)(1): what has a limit and no ampacity, among others: %s', (_name, inputs, amps) => {
    expect(judge(inputs)).toMatchObject({ outcome: 'finding', severity: 'repair' })
    expect(judge(inputs).technician).toContain(`${amps} A at most`)
  })
})

describe('ampacity, factors and terminals', () => {
  test.each<[string, BreakerInputs, string, number]>([
    ['8 AWG, 75 °C terminals: 50 A', cu('8', 50, { serves: 'range' }), 'sound', 50],
    ['8 AWG, 60 °C terminals: 40 A', cu('8', 50, { serves: 'range', terminalC: '60' }), 'finding', 40],
    ['6 AWG NM: 55 A, next size 60 A', cu('6', 60, { serves: 'range', wiring: 'nm' }), 'sound', 60],
    ['6 AWG NM at 70 A', cu('6', 70, { serves: 'range', wiring: 'nm' }), 'finding', 60],
    ['4 AWG, 75 °C terminals: 85 A, next size 90 A', cu('4', 90, { serves: 'feeder' }), 'sound', 90],
    ['4 AWG on 100 A', cu('4', 100, { serves: 'feeder' }), 'finding', 90],
    ['12 AWG at 55 °C, 22.8 A, still held to 20 A', cu('12', 20, { ambientC: 55 }), 'sound', 20],
    ['12 AWG at 60 °C: 30 × 0.71 = 21.3', cu('12', 20, { ambientC: 60 }), 'sound', 20],
    ['12 AWG at 70 °C: 30 × 0.58 = 17.4', cu('12', 20, { ambientC: 70 }), 'finding', 17.4],
    [
      '… and 20 A as the next size where no receptacles hang on it',
      cu('12', 20, { ambientC: 70, serves: 'lighting' }),
      'sound',
      20,
    ],
    [
      '12 AWG, 10 conductors: 30 × 0.5 = 15',
      cu('12', 20, { bundled: 10, serves: 'lighting' }),
      'finding',
      15,
    ],
    ['14 AWG, 9 conductors: 25 × 0.7 = 17.5', cu('14', 15, { bundled: 9 }), 'sound', 15],
  ])('IRC E3705, 240.4(B) from memory: %s', (_name, inputs, outcome, largest) => {
    const verdict = judge(inputs)
    expect(verdict.outcome).toBe(outcome)
    expect(figure(verdict, 'Largest device')).toBeCloseTo(largest, 6)
  })

  test('a next size up names 240.4(B), an exact ampacity 240.4', () => {
    expect(articles(judge(cu('4', 90, { serves: 'feeder' })))[0]).toBe('240.4(B)')
    expect(articles(judge(cu('8', 50, { serves: 'range' })))[0]).toBe('240.4')
  })

  test('the factors that were used are cited', () => {
    const verdict = judge(cu('12', 20, { ambientC: 40, bundled: 5, wiring: 'nm' }))
    expect(verdict.references.slice(3)).toEqual([
      { code: 'NFPA 70', edition: '2023', article: 'Table 310.15(B)(1)', row: '40 °C' },
      { code: 'NFPA 70', edition: '2023', article: 'Table 310.15(C)(1)', row: '5 conductors' },
      { code: 'NFPA 70', edition: '2023', article: '334.80' },
    ])
    expect(figure(verdict, 'Ambient factor')).toBe(0.91)
    expect(figure(verdict, 'Bundling factor')).toBe(0.8)
    expect(figure(verdict, 'Usable ampacity')).toBe(20)
  })

  test('hotter than the insulation is rated for', () => {
    expect(judge(cu('12', 20, { insulationC: '60', ambientC: 60 }))).toMatchObject({
      outcome: 'finding',
      severity: 'repair',
      technician: '12 AWG copper under a 20 A breaker: 60 °C is hotter than its insulation is rated for.',
    })
  })
})

describe('what is not recorded', () => {
  const FIELDS = EQUIPMENT_FIELDS.circuit
  test('rating, material and size are needed, and named in the words of the form', () => {
    expect(judge({})).toMatchObject({
      outcome: 'undetermined',
      missing: ['Breaker or fuse rating', 'Conductor material', 'Conductor size'],
    })
    expect(judge({ size: '12', ratingAmps: 20 })).toMatchObject({ missing: [FIELDS.material.label] })
  })
  test('terminals are asked for only where they decide', () => {
    expect(judge(cu('8', 50, { serves: 'range', terminalC: undefined }))).toMatchObject({
      outcome: 'undetermined',
      missing: [FIELDS.terminalC.label],
    })
    expect(judge(cu('8', 40, { serves: 'range', terminalC: undefined })).outcome).toBe('sound')
    expect(judge(cu('8', 60, { serves: 'range', terminalC: undefined })).outcome).toBe('finding')
  })
  test('insulation is asked for only where it decides', () => {
    expect(judge(cu('8', 50, { serves: 'range', insulationC: undefined }))).toMatchObject({
      missing: [FIELDS.insulationC.label],
    })
    expect(judge(cu('12', 20, { insulationC: undefined })).outcome).toBe('sound')
  })
  test('of several details not recorded only those are asked for that decide', () => {
    // Table 310.16 at 70 °C: 30 × 0.58 = 17.4 A; 20 A as the next size, but not for several receptacles (240.4(B)(1)).
    const hot = cu('12', 20, { ambientC: 70, serves: undefined, terminalC: undefined })
    expect(judge(hot)).toMatchObject({ outcome: 'undetermined', missing: [FIELDS.serves.label] })
    // 60 °C terminals hold 8 AWG to 40 A, the next size above it is 45 A: no receptacles would not save it.
    expect(judge(cu('8', 50, { insulationC: '75', serves: undefined, terminalC: undefined }))).toMatchObject({
      missing: [FIELDS.terminalC.label],
    })
    // Printings and details: 8 AWG aluminium at 60 °C takes 30 A through 2008 and 35 A since.
    const aluminium = cu('8', 35, { serves: undefined, insulationC: '60', terminalC: '60' })
    expect(judge({ ...aluminium, material: 'aluminium' }, null)).toMatchObject({ missing: [EDITION_MISSING] })
  })
  test('6 AWG aluminium at 90 °C with 5 conductors: 60 × 0.8, next size 50, through 2008; 55 × 0.8, 45, since', () => {
    const bundled = { ...cu('6', 50, { bundled: 5, serves: 'range' }), material: 'aluminium' } as const
    expect(judge(bundled, '2008').outcome).toBe('sound')
    expect(judge(bundled, '2023').outcome).toBe('finding')
    expect(judge(bundled, null)).toMatchObject({ missing: [EDITION_MISSING] })
  })
  test('two details that decide only together are both asked for', () => {
    expect(
      judge(cu('8', 50, { serves: 'range', insulationC: undefined, terminalC: undefined })),
    ).toMatchObject({ missing: [FIELDS.insulationC.label, FIELDS.terminalC.label] })
  })
  test('what it serves is asked for only where the next size up decides', () => {
    expect(judge(cu('6', 70, { serves: undefined }))).toMatchObject({
      outcome: 'undetermined',
      missing: [FIELDS.serves.label],
    })
    expect(judge(cu('12', 20, { serves: undefined })).outcome).toBe('sound')
    expect(judge(cu('6', 70, { serves: 'range' })).outcome).toBe('sound')
    expect(judge(cu('6', 70, { serves: 'bathroom' })).outcome).toBe('finding')
  })
  test.each(['receptacles', 'lighting-and-receptacles', 'small-appliance', 'laundry', 'bathroom'] as const)(
    'from memory, 240.4(B)(1): no next size up for %s',
    (serves) => {
      expect(judge(cu('6', 70, { serves })).outcome).toBe('finding')
    },
  )
  test('an unknown edition matters only where the printings differ: 8 AWG aluminium at 60 °C', () => {
    const aluminium = { ...cu('8', 35, { serves: 'range', terminalC: '60' }), material: 'aluminium' } as const
    expect(judge(aluminium, null)).toMatchObject({ outcome: 'undetermined', missing: [EDITION_MISSING] })
    expect(judge(aluminium, '2023').outcome).toBe('sound')
    expect(judge(cu('12', 20), null)).toMatchObject({ outcome: 'sound', requiredToday: 'unknown' })
    expect(judge(cu('12', 25), null).outcome).toBe('finding')
  })
})

describe('two clocks', () => {
  test('what was allowed when built is an improvement, in those words', () => {
    // 6 AWG aluminium at 90 °C: 60 A in printings through 2008, 55 A since; at 45 °C that is 52.2 and 47.85 A.
    const derated = { ...cu('6', 50, { ambientC: 45 }), material: 'aluminium' } as const
    expect(judge(derated, '2008').outcome).toBe('sound')
    expect(judge(derated, '2023', '1996')).toMatchObject({
      outcome: 'finding',
      severity: 'improve',
      technician:
        '6 AWG aluminium under a 50 A breaker: 45 A at most would be required in new work; 50 A was allowed when built.',
      homeowner:
        'This breaker was right when it was put in. In new work a smaller one is used for such a wire.',
    })
    expect(judge(derated, '2023', '2017')).toMatchObject({ severity: 'repair' })
    expect(judge(derated, '2023', null)).toMatchObject({ severity: 'repair' })
  })
  test('known to fall short when built too: repair; both clocks are told', () => {
    expect(judge(cu('14', 20), '2023', '1984')).toMatchObject({
      severity: 'repair',
      requiredWhenBuilt: 'yes',
      requiredToday: 'yes',
    })
  })
})

describe('nameplates of motors, air conditioners and heat pumps', () => {
  const FIELDS = EQUIPMENT_FIELDS.circuit
  const unit = (more: BreakerInputs = {}) =>
    cu('12', 35, {
      serves: 'air-conditioner',
      nameplateMinimumCircuitAmps: 21.8,
      nameplateMaximumDeviceAmps: 35,
      ...more,
    })

  test('common practice, basis 440.4(B) and 440.22: breaker 35 at maximum 35 passes, above the small-conductor limit', () => {
    const verdict = judge(unit())
    expect(verdict).toMatchObject({
      outcome: 'sound',
      technician:
        '12 AWG copper under a 35 A breaker: the nameplate allows 35 A and asks for 21.8 A of conductor.',
    })
    expect(articles(verdict)[0]).toBe('240.4(G)')
  })
  test('breaker 40 at maximum 35: no rounding up', () => {
    expect(judge(unit({ ratingAmps: 40 }))).toMatchObject({
      outcome: 'finding',
      severity: 'repair',
      technician: '12 AWG copper under a 40 A breaker: the nameplate allows 35 A at most.',
    })
  })
  test('conductor below the minimum circuit ampacity', () => {
    expect(judge(unit({ nameplateMinimumCircuitAmps: 25.1 }))).toMatchObject({
      outcome: 'finding',
      severity: 'repair',
      technician:
        '12 AWG copper under a 35 A breaker: the nameplate asks for 25.1 A of conductor, this one carries 25 A.',
    })
    expect(judge(unit({ nameplateMinimumCircuitAmps: 25 })).outcome).toBe('sound')
  })
  test('terminals and insulation are asked for where they decide about the minimum', () => {
    expect(judge(unit({ terminalC: undefined }))).toMatchObject({ missing: [FIELDS.terminalC.label] })
    expect(judge(unit({ insulationC: undefined }))).toMatchObject({ missing: [FIELDS.insulationC.label] })
    expect(judge(unit({ terminalC: undefined, nameplateMinimumCircuitAmps: 20 })).outcome).toBe('sound')
  })
  test('without the nameplate it is asked for, where it could make a difference', () => {
    const bare = { nameplateMinimumCircuitAmps: undefined, nameplateMaximumDeviceAmps: undefined }
    expect(judge(unit(bare))).toMatchObject({
      outcome: 'undetermined',
      missing: [FIELDS.nameplateMinimumCircuitAmps.label, FIELDS.nameplateMaximumDeviceAmps.label],
    })
    expect(judge(unit({ nameplateMinimumCircuitAmps: undefined }))).toMatchObject({
      missing: [FIELDS.nameplateMinimumCircuitAmps.label],
    })
    expect(judge(unit({ ...bare, ratingAmps: 20 })).outcome).toBe('sound')
  })
  test('from memory, 440.22(A) over 440.32: no nameplate allows more than 1.8 conductor ampacities; motors 3.2', () => {
    const bare = { nameplateMinimumCircuitAmps: undefined, nameplateMaximumDeviceAmps: undefined }
    expect(judge(unit({ ...bare, ratingAmps: 45 })).outcome).toBe('undetermined')
    expect(judge(unit({ ...bare, ratingAmps: 50 }))).toMatchObject({ outcome: 'finding', severity: 'unsafe' })
    expect(judge(unit({ ...bare, serves: 'heat-pump', ratingAmps: 45 })).outcome).toBe('undetermined')
    expect(judge(unit({ ...bare, serves: 'heat-pump', ratingAmps: 50 })).outcome).toBe('finding')
    expect(judge(unit({ ...bare, serves: 'motor', ratingAmps: 80 })).outcome).toBe('undetermined')
    expect(judge(unit({ ...bare, serves: 'motor', ratingAmps: 90 })).outcome).toBe('finding')
  })
  test('a nameplate frees no other kind of load from the limits, but binds it', () => {
    expect(judge(unit({ serves: 'water-heater' }))).toMatchObject({ outcome: 'finding', severity: 'unsafe' })
    expect(
      judge(unit({ serves: 'water-heater', ratingAmps: 20, nameplateMaximumDeviceAmps: 15 })),
    ).toMatchObject({
      outcome: 'finding',
      technician: '12 AWG copper under a 20 A breaker: the nameplate allows 15 A at most.',
    })
  })
})

describe('circuits that are not judged here', () => {
  test('a spare without a conductor; with one it is judged', () => {
    expect(judge({ serves: 'spare', ratingAmps: 20 })).toMatchObject({
      outcome: 'not-applicable',
      why: 'a spare without a conductor',
    })
    expect(judge(cu('14', 20, { serves: 'spare' })).outcome).toBe('finding')
  })
  test('a feeder whose sub-panel is recorded', () => {
    const circuit = item('c1', 'circuit', {
      size: '4',
      material: 'copper',
      ratingAmps: 100,
      serves: 'feeder',
    })
    const panel = item('p2', 'panel', { role: 'sub-panel' }, { parentId: 'c1' })
    const { inputs } = breakerAgainstConductor
    const judged = (home: ReturnType<typeof homeOf>) => judge(inputs(circuit, home))
    expect(judged(homeOf(circuit, panel))).toMatchObject({
      outcome: 'not-applicable',
      why: 'a feeder, judged with the sub-panel it feeds',
    })
    expect(judged(homeOf(circuit)).outcome).toBe('finding')
    const elsewhere = item('p3', 'panel', { role: 'sub-panel' }, { parentId: 'c9' })
    expect(judged(homeOf(circuit, elsewhere)).outcome).toBe('finding')
  })
  test('the rule reads the record', () => {
    const details = {
      ...cu('12', 20, { device: 'breaker', wiring: 'nm', ambientC: 35, bundled: 4 }),
      nameplateMinimumCircuitAmps: 10,
      nameplateMaximumDeviceAmps: 20,
    }
    const circuit = item('c1', 'circuit', details)
    expect(breakerAgainstConductor.inputs(circuit, homeOf(circuit))).toEqual({
      ...details,
      feedsRecordedPanel: false,
    })
    expect(breakerAgainstConductor).toMatchObject({
      id: 'overcurrent.breaker-against-conductor',
      kind: 'circuit',
      title: 'Breaker or fuse against its conductor',
    })
  })
})

describe('properties', () => {
  const FIELDS = EQUIPMENT_FIELDS.circuit
  const options = <Name extends 'material' | 'wiring' | 'serves' | 'insulationC' | 'terminalC' | 'device'>(
    name: Name,
  ) => fc.constantFrom(...(Object.keys(FIELDS[name].options) as NonNullable<BreakerInputs[Name]>[]))
  const circuits: fc.Arbitrary<BreakerInputs> = fc.record(
    {
      ratingAmps: fc.constantFrom(10, 15, 20, 25, 30, 35, 40, 50, 60, 70, 80, 90, 100, 110, 125, 150, 200),
      device: options('device'),
      material: options('material'),
      size: fc.constantFrom(...CONDUCTOR_SIZES),
      wiring: options('wiring'),
      insulationC: options('insulationC'),
      terminalC: options('terminalC'),
      ambientC: fc.integer({ min: -40, max: 85 }),
      bundled: fc.integer({ min: 1, max: 60 }),
      serves: options('serves'),
      nameplateMinimumCircuitAmps: fc.integer({ min: 0, max: 100 }),
      nameplateMaximumDeviceAmps: fc.integer({ min: 0, max: 200 }),
    },
    { requiredKeys: [] },
  )
  const editions = fc.constantFrom(...EDITIONS, null)

  /** From best to worst; what is not known stands between sound and found wanting. */
  const grade = (verdict: Verdict): number => {
    if (verdict.outcome === 'finding') {
      return { watch: 2, improve: 3, investigate: 4, repair: 5, unsafe: 6 }[verdict.severity]
    }
    return verdict.outcome === 'undetermined' ? 1 : 0
  }

  test('a larger conductor never makes it worse', () => {
    fc.assert(
      fc.property(
        circuits,
        editions,
        editions,
        fc.integer({ min: 1, max: 6 }),
        (circuit, now, built, steps) => {
          const index = CONDUCTOR_SIZES.indexOf(circuit.size ?? '12')
          const larger = CONDUCTOR_SIZES[Math.min(index + steps, CONDUCTOR_SIZES.length - 1)]!
          fc.pre(circuit.size !== undefined)
          const before = judgeBreaker(circuit, under(now, built))
          const after = judgeBreaker({ ...circuit, size: larger }, under(now, built))
          expect(grade(after)).toBeLessThanOrEqual(grade(before))
        },
      ),
      { numRuns: 500 },
    )
  })

  test('leaving a needed value out gives undetermined, never a pass and never an exception', () => {
    fc.assert(
      fc.property(
        circuits,
        editions,
        fc.constantFrom('ratingAmps' as const, 'material' as const, 'size' as const),
        (circuit, now, needed) => {
          const verdict = judgeBreaker({ ...circuit, [needed]: undefined, serves: 'range' }, under(now))
          expect(verdict).toMatchObject({ outcome: 'undetermined' })
          expect('missing' in verdict && verdict.missing).toContain(FIELDS[needed].label)
        },
      ),
    )
  })

  test('whatever is left out, the verdict reads well, and knowing more never turns sound into wanting', () => {
    fc.assert(
      fc.property(
        circuits,
        editions,
        editions,
        fc.constantFrom('60', '75', '90'),
        (circuit, now, built, more) => {
          const verdict = spoken(judgeBreaker(circuit, under(now, built)))
          if (verdict.outcome !== 'sound' || circuit.insulationC) return
          const informed = judgeBreaker({ ...circuit, insulationC: more as '60' }, under(now, built))
          expect(informed.outcome).toBe('sound')
        },
      ),
      { numRuns: 400 },
    )
  })
})
