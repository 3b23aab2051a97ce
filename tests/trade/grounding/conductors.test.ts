import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { CONDUCTOR_SIZES, sizeRank } from '../../../trade/conductors/sizes.ts'
import { EQUIPMENT_FIELDS } from '../../../trade/equipment.ts'
import {
  electrodeConductor,
  electrodeConductorAtElectrode,
  type ElectrodeConductorInputs,
  judgeElectrodeConductor,
  serviceConductors,
} from '../../../trade/grounding/electrode-conductor.ts'
import {
  circuitEquipmentConductor,
  type EquipmentConductorInputs,
  feederEquipmentConductor,
} from '../../../trade/grounding/equipment-conductor.ts'
import { SEVERITIES, type Verdict } from '../../../trade/verdict.ts'
import { articles, homeOf, item, spoken, under } from '../overcurrent/verdicts.ts'

const missing = (verdict: Verdict) => (verdict.outcome === 'undetermined' ? verdict.missing : null)
const rule = 'grounding.electrode-conductor'
const judge = (inputs: ElectrodeConductorInputs, context = under('2023', '1999')) =>
  spoken(judgeElectrodeConductor(rule, inputs, context))

describe('grounding electrode conductor against the service', () => {
  const al40 = { serviceMaterial: 'aluminium', serviceSize: '4/0' } as const
  const cu20 = { serviceMaterial: 'copper', serviceSize: '2/0' } as const
  test.each([
    // NFPA 70 Table 250.66.
    [{ ...cu20, material: 'copper', size: '4', soleTo: null }, 'sound'],
    [{ ...cu20, material: 'copper', size: '6', soleTo: null }, 'finding'],
    [{ ...al40, material: 'copper', size: '4', soleTo: null }, 'sound'],
    [{ ...al40, material: 'aluminium', size: '2', soleTo: null }, 'sound'],
    [{ ...al40, material: 'aluminium', size: '4', soleTo: null }, 'finding'],
    [{ serviceMaterial: 'copper', serviceSize: '4', material: 'copper', size: '8', soleTo: null }, 'sound'],
    [
      { serviceMaterial: 'aluminium', serviceSize: '1/0', material: 'copper', size: '8', soleTo: null },
      'sound',
    ],
    // 250.66(A): sole connection to rods.
    [{ ...al40, material: 'copper', size: '6', soleTo: 'rod' }, 'sound'],
    [{ ...al40, material: 'copper', size: '8', soleTo: 'rod' }, 'finding'],
  ] as const)('%o: %s', (inputs, outcome) => {
    expect(judge(inputs)).toMatchObject({
      rule,
      outcome,
      ...(outcome === 'finding' && { severity: 'repair' }),
    })
  })
  test('says what was found, what is wanted and where it stands', () => {
    const verdict = judge({ ...cu20, material: 'copper', size: '6', soleTo: null })
    expect(verdict.technician).toBe(
      '6 AWG copper electrode conductor, 4 AWG wanted for 2/0 AWG copper service conductors; it was required when this was built.',
    )
    expect(verdict.references).toContainEqual({
      code: 'NFPA 70',
      article: 'Table 250.66',
      row: 'service conductors up to 3/0 copper',
    })
    expect(judge({ ...cu20, material: 'copper', size: '4', soleTo: null }).technician).toBe(
      '4 AWG copper electrode conductor; 4 AWG wanted for 2/0 AWG copper service conductors.',
    )
    expect(judge({ ...al40, material: 'copper', size: '6', soleTo: 'rod' }).references).toContainEqual({
      code: 'NFPA 70',
      article: '250.66(A)',
      row: 'ends at a rod: never larger',
    })
  })
  test('an unclear end is asked for only where it decides', () => {
    const open = judge({ ...al40, material: 'copper', size: '6' })
    expect(missing(open)).toEqual([
      EQUIPMENT_FIELDS.electrode.kind.label,
      EQUIPMENT_FIELDS.electrode.soleConnection.label,
    ])
    expect(judge({ ...al40, material: 'copper', size: '4' })).toMatchObject({ outcome: 'sound' })
    expect(judge({ ...al40, material: 'copper', size: '8' })).toMatchObject({ outcome: 'finding' })
  })
  test.each([
    [
      {},
      [
        'Service conductor material',
        'Service conductor size',
        'Grounding electrode conductor material',
        'Grounding electrode conductor size',
      ],
    ],
    [{ ...cu20, material: 'copper' }, ['Grounding electrode conductor size']],
    [{ ...cu20, size: '4' }, ['Grounding electrode conductor material']],
    [{ serviceSize: '2/0', material: 'copper', size: '4' }, ['Service conductor material']],
    [{ serviceMaterial: 'copper', material: 'copper', size: '4' }, ['Service conductor size']],
  ] as const)('%o misses %o', (inputs, labels) => {
    expect(missing(judge(inputs))).toEqual(labels)
  })
  test('an older home is improved, an unknown edition left open', () => {
    const short = { ...cu20, material: 'copper', size: '6', soleTo: null } as const
    expect(judge(short, under('2023', '1968'))).toMatchObject({
      outcome: 'finding',
      severity: 'improve',
      requiredWhenBuilt: 'unknown',
      requiredToday: 'yes',
    })
    expect(articles(judge(short, under('2023', '1984')))).toEqual([
      'Table 250-94',
      'Table 250.66',
      'Table 250.66',
    ])
    expect(missing(judge(short, under(null)))).toEqual(['Code edition in force'])
  })
  test('a larger conductor is never judged worse', () => {
    const size = fc.constantFrom(...CONDUCTOR_SIZES)
    const weight = (verdict: Verdict) =>
      verdict.outcome === 'finding'
        ? SEVERITIES.indexOf(verdict.severity)
        : SEVERITIES.length + Number(verdict.outcome === 'sound')
    fc.assert(
      fc.property(
        size,
        size,
        size,
        fc.constantFrom('copper', 'aluminium'),
        fc.constantFrom('rod', 'concrete-encased', null, undefined),
        (serviceSize, a, b, material, soleTo) => {
          const [less, more] = sizeRank(a) < sizeRank(b) ? [a, b] : [b, a]
          const of = (one: typeof a) =>
            judge({ serviceMaterial: 'copper', serviceSize, material, size: one, soleTo })
          expect(weight(of(more))).toBeGreaterThanOrEqual(weight(of(less)))
        },
      ),
    )
  })
})

describe('what the record gives', () => {
  const service = item('s', 'service', {
    conductorMaterial: 'aluminium',
    conductorSize: '4/0',
    electrodeConductorMaterial: 'copper',
    electrodeConductorSize: '6',
  })
  const rod = (id: string, details = {}) => item(id, 'electrode', { kind: 'rod', ...details })
  const water = (details = {}) => item('w', 'electrode', { kind: 'water-pipe', ...details })
  const endOf = (...electrodes: ReturnType<typeof rod>[]) =>
    electrodeConductor.inputs(service, homeOf(service, ...electrodes)).soleTo
  test.each([
    ['no electrode recorded', [], undefined],
    ['one rod, end unknown', [rod('a')], undefined],
    ['one rod, conductor ends there', [rod('a', { soleConnection: true })], 'rod'],
    ['one rod, conductor goes on', [rod('a', { soleConnection: false })], null],
    ['two rods, one after the other', [rod('a', { soleConnection: false }), rod('b')], 'rod'],
    ['rod and plate', [rod('a'), item('b', 'electrode', { kind: 'plate' })], 'rod'],
    ['rod and water pipe, ends unknown', [rod('a'), water()], undefined],
    [
      'rod and water pipe, both ends',
      [rod('a', { soleConnection: true }), water({ soleConnection: true })],
      'water-pipe',
    ],
    [
      'water pipe with a conductor of its own',
      [rod('a', { soleConnection: true }), water({ conductorSize: '4' })],
      'rod',
    ],
    ['kind unknown', [item('a', 'electrode', { soleConnection: true })], undefined],
    [
      'one kind known, the other not',
      [rod('a', { soleConnection: true }), item('b', 'electrode', { soleConnection: true })],
      undefined,
    ],
    ['goes on, though another end is unclear', [rod('a', { soleConnection: false }), water()], null],
    [
      'concrete before rod',
      [
        rod('a', { soleConnection: true }),
        item('c', 'electrode', { kind: 'concrete-encased', soleConnection: true }),
      ],
      'concrete-encased',
    ],
    [
      'ring before concrete',
      [
        item('r', 'electrode', { kind: 'ring', soleConnection: true }),
        item('c', 'electrode', { kind: 'concrete-encased', soleConnection: true }),
      ],
      'ring',
    ],
  ] as const)('%s: ends at %s', (_, electrodes, end) => {
    expect(endOf(...(electrodes as unknown as ReturnType<typeof rod>[]))).toBe(end)
  })
  test('both rules carry size and service, judged under their own id', () => {
    const at = rod('a', { conductorMaterial: 'copper', conductorSize: '6', soleConnection: true })
    const home = homeOf(service, at)
    const given = electrodeConductor.inputs(service, home)
    expect(given).toEqual({
      serviceMaterial: 'aluminium',
      serviceSize: '4/0',
      material: 'copper',
      size: '6',
      soleTo: undefined,
    })
    expect(electrodeConductor.judge({ ...given, soleTo: 'rod' }, under('2023', '2023'))).toMatchObject({
      rule: 'grounding.electrode-conductor',
      outcome: 'sound',
    })
    const atElectrode = electrodeConductorAtElectrode.inputs(at, home)
    expect(atElectrode).toEqual({
      serviceMaterial: 'aluminium',
      serviceSize: '4/0',
      material: 'copper',
      size: '6',
      soleTo: 'rod',
    })
    expect(electrodeConductorAtElectrode.judge(atElectrode, under('2023', '2023'))).toMatchObject({
      rule: 'grounding.electrode-conductor-at-electrode',
      outcome: 'sound',
    })
  })
  test('of several services the largest counts, in any order', () => {
    const small = item('t', 'service', { conductorMaterial: 'copper', conductorSize: '4' })
    const blank = item('u', 'service', {})
    const largest = { serviceMaterial: 'aluminium', serviceSize: '4/0' }
    expect(serviceConductors(homeOf(service, small, blank))).toEqual(largest)
    expect(serviceConductors(homeOf(blank, small, service))).toEqual(largest)
    // NFPA 70 Table 250.66: of one size, copper asks for the larger electrode conductor.
    const copper = item('v', 'service', { conductorMaterial: 'copper', conductorSize: '4/0' })
    const clad = item('w', 'service', { conductorMaterial: 'copper-clad', conductorSize: '4/0' })
    const unsaid = item('x', 'service', { conductorSize: '4/0' })
    for (const all of [
      [copper, service, clad, unsaid],
      [unsaid, clad, service, copper],
    ]) {
      expect(serviceConductors(homeOf(...all))).toEqual({ serviceMaterial: 'copper', serviceSize: '4/0' })
    }
    expect(serviceConductors(homeOf(clad, unsaid)).serviceMaterial).toBe('copper-clad')
    expect(serviceConductors(homeOf(service, clad)).serviceMaterial).toBe('aluminium')
    expect(serviceConductors(homeOf())).toEqual({ serviceMaterial: undefined, serviceSize: undefined })
  })
})

describe('equipment grounding conductor', () => {
  const circuit = (inputs: EquipmentConductorInputs, context = under('2023', '1999')) =>
    spoken(circuitEquipmentConductor.judge(inputs, context))
  const copper = { material: 'copper', groundMaterial: 'copper' } as const
  test.each([
    // NFPA 70 Table 250.122.
    [{ ...copper, deviceAmps: 15, size: '14', groundSize: '14' }, 'sound'],
    [{ ...copper, deviceAmps: 20, size: '12', groundSize: '14' }, 'finding'],
    [{ ...copper, deviceAmps: 40, size: '8', groundSize: '10' }, 'sound'],
    [{ ...copper, deviceAmps: 60, size: '6', groundSize: '10' }, 'sound'],
    [{ ...copper, deviceAmps: 60, size: '6', groundSize: '12' }, 'finding'],
    // Never larger than the circuit conductors, 250.122(A).
    [{ ...copper, deviceAmps: 40, size: '12', groundSize: '12' }, 'sound'],
    // From memory: 250.122(B), enlarged conductors.
    [{ ...copper, deviceAmps: 20, size: '10', groundSize: '12' }, 'finding'],
    [{ ...copper, deviceAmps: 20, size: '10', groundSize: '10' }, 'sound'],
    [{ ...copper, deviceAmps: 20, groundSize: '12' }, 'undetermined'],
    [{ ...copper, deviceAmps: 20, size: '12', groundSize: '12' }, 'sound'],
    // 25 A of 10 AWG aluminium: the table's 8 AWG, but 250.122(A) caps it, enlarged or not.
    [
      { material: 'aluminium', groundMaterial: 'aluminium', deviceAmps: 25, size: '10', groundSize: '10' },
      'sound',
    ],
    [
      { material: 'aluminium', groundMaterial: 'aluminium', deviceAmps: 25, size: '8', groundSize: '8' },
      'sound',
    ],
  ] as const)('%o: %s', (inputs, outcome) => {
    expect(circuit(inputs, under('2023', '2002'))).toMatchObject({
      rule: 'grounding.circuit-equipment-conductor',
      outcome,
      ...(outcome === 'finding' && { severity: 'repair' }),
      figures: [{ label: 'Overcurrent device', value: inputs.deviceAmps, unit: 'A' }],
    })
  })
  test('tells the row, the cap and the enlargement', () => {
    const short = circuit({ ...copper, deviceAmps: 20, size: '12', groundSize: '14' })
    expect(short.technician).toBe(
      'Equipment grounding conductor 14 AWG, 12 AWG wanted at 20 A; it was required when this was built.',
    )
    expect(short.references).toContainEqual({
      code: 'NFPA 70',
      article: 'Table 250.122',
      row: 'device up to 20 A',
    })
    const capped = circuit({ ...copper, deviceAmps: 40, size: '12', groundSize: '12' })
    expect(capped.references).toContainEqual({
      code: 'NFPA 70',
      article: 'Table 250.122',
      row: 'never larger than the circuit conductors',
    })
    const enlarged = circuit(
      { ...copper, deviceAmps: 20, size: '10', groundSize: '12' },
      under('2023', '2002'),
    )
    expect(enlarged.technician).toBe(
      'Equipment grounding conductor 12 AWG, 10 AWG wanted at 20 A because the conductors are 10 AWG where 12 AWG would do; it was required when this was built.',
    )
    expect(articles(enlarged)).toContain('250.122(B)')
    // Before 2002 enlarged conductors asked for nothing more (from memory).
    expect(
      circuit({ ...copper, deviceAmps: 20, size: '10', groundSize: '12' }, under('2023', '1999')),
    ).toMatchObject({
      severity: 'improve',
      requiredWhenBuilt: 'no',
    })
  })
  test('the ground of old cable could be thinner: an improvement, not a defect', () => {
    const old = { ...copper, deviceAmps: 15, size: '14', groundSize: '16' } as const
    expect(circuit(old, under('2023', '1965'))).toMatchObject({
      severity: 'improve',
      requiredWhenBuilt: 'unknown',
    })
    expect(circuit(old, under('2023', '1971'))).toMatchObject({
      severity: 'repair',
      requiredWhenBuilt: 'yes',
    })
  })
  test('unknowns, spares and large devices', () => {
    expect(missing(circuit({}))).toEqual([
      'Breaker or fuse rating',
      'Material of that grounding conductor',
      'Equipment grounding conductor',
    ])
    expect(missing(circuit({ deviceAmps: 20, groundMaterial: 'copper' }))).toEqual([
      'Equipment grounding conductor',
    ])
    expect(missing(circuit({ groundMaterial: 'copper', groundSize: '12', size: '12' }))).toEqual([
      'Breaker or fuse rating',
    ])
    // 250.122(B): whether the conductors were enlarged; before 2002 nobody asked (from memory).
    const unsized = { groundMaterial: 'copper', deviceAmps: 20, groundSize: '12' } as const
    expect(missing(circuit(unsized))).toEqual(['Conductor material', 'Conductor size'])
    expect(missing(circuit({ ...unsized, size: '12' }))).toEqual(['Conductor material'])
    expect(missing(circuit({ ...unsized, material: 'copper' }, under('1999', '2002')))).toEqual([
      'Conductor size',
    ])
    expect(circuit(unsized, under('1999', '1990')).outcome).toBe('sound')
    expect(circuit({ spare: true })).toMatchObject({
      outcome: 'not-applicable',
      why: 'the breaker is a spare',
    })
    expect(circuit({ deviceAmps: 1000, groundMaterial: 'copper', groundSize: '4' })).toMatchObject({
      outcome: 'not-applicable',
      why: 'the device is larger than the table kept here',
    })
  })
  test('a feeder goes by its breaker; its conductors are never called enlarged', () => {
    const feeder = (details: Parameters<typeof feederEquipmentConductor.judge>[0]) =>
      spoken(feederEquipmentConductor.judge(details, under('2023', '1999')))
    const sub = { role: 'sub-panel', ...copper } as const
    for (const [deviceAmps, groundSize] of [
      [60, '10'],
      [100, '8'],
      [200, '6'],
    ] as const) {
      expect(feeder({ ...sub, deviceAmps, size: '4/0', groundSize })).toMatchObject({
        rule: 'grounding.feeder-equipment-conductor',
        outcome: 'sound',
      })
    }
    expect(feeder({ ...sub, deviceAmps: 100, size: '3', groundSize: '10' })).toMatchObject({
      outcome: 'finding',
    })
    expect(missing(feeder(sub))).toEqual(['Feeder breaker', 'Equipment grounding conductor of the feeder'])
    expect(missing(feeder({}))).toEqual(['Role'])
    expect(feeder({ role: 'service' })).toMatchObject({
      outcome: 'not-applicable',
      why: 'a service panel has no feeder',
    })
  })
  test('inputs come from the circuit and the panel', () => {
    const of = circuitEquipmentConductor.inputs(
      item('c', 'circuit', {
        ratingAmps: 20,
        material: 'copper',
        size: '12',
        groundMaterial: 'copper',
        groundSize: '14',
        serves: 'spare',
      }),
      homeOf(),
    )
    expect(of).toEqual({
      deviceAmps: 20,
      material: 'copper',
      size: '12',
      groundMaterial: 'copper',
      groundSize: '14',
      spare: true,
    })
    expect(circuitEquipmentConductor.inputs(item('c', 'circuit', { serves: 'dryer' }), homeOf()).spare).toBe(
      false,
    )
    const panel = item('p', 'panel', {
      role: 'sub-panel',
      feederBreakerAmps: 60,
      feederMaterial: 'aluminium',
      feederSize: '4',
      feederGroundMaterial: 'aluminium',
      feederGroundSize: '8',
    })
    expect(feederEquipmentConductor.inputs(panel, homeOf(panel))).toEqual({
      role: 'sub-panel',
      deviceAmps: 60,
      material: 'aluminium',
      size: '4',
      groundMaterial: 'aluminium',
      groundSize: '8',
    })
  })
})
