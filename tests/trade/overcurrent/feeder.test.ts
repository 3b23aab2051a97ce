import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { CONDUCTOR_SIZES } from '../../../trade/conductors/sizes.ts'
import { EDITIONS, type Edition } from '../../../trade/editions.ts'
import { EQUIPMENT_FIELDS } from '../../../trade/equipment.ts'
import { EDITION_MISSING } from '../../../trade/judging.ts'
import { feederAgainstConductor, type FeederInputs, judgeFeeder } from '../../../trade/overcurrent/feeder.ts'
import { type BusInputs, deviceAgainstBus, judgeBus } from '../../../trade/overcurrent/panel-bus.ts'
import { articles, figure, homeOf, item, spoken, under } from './verdicts.ts'

const FIELDS = EQUIPMENT_FIELDS.panel
const judge = (inputs: FeederInputs, now: Edition | null = '2023', built: Edition | null = null) =>
  spoken(judgeFeeder(inputs, under(now, built)))
const FOUR_ON_HUNDRED: FeederInputs = {
  role: 'sub-panel',
  feederBreakerAmps: 100,
  feederMaterial: 'copper',
  feederSize: '4',
  feederTerminalC: '75',
  feederCarriesWholeDwelling: false,
}

describe('feeder of a sub-panel', () => {
  test('IRC E3705 and 240.6: 4 AWG copper on a 100 A sub-feeder carries 85 A, next size 90 A', () => {
    const verdict = judge(FOUR_ON_HUNDRED)
    expect(verdict).toMatchObject({
      rule: 'overcurrent.feeder-against-conductor',
      outcome: 'finding',
      severity: 'repair',
      technician: '4 AWG copper under a 100 A feeder breaker: 90 A at most.',
      homeowner:
        'The wires to the sub-panel are thinner than what protects them allows; a smaller breaker or thicker wires put that right.',
      figures: [
        { label: 'Device', value: 100, unit: 'A' },
        { label: 'Ampacity at the terminals', value: 85, unit: 'A' },
        { label: 'Largest device', value: 90, unit: 'A' },
      ],
      references: [
        { code: 'NFPA 70', edition: '2023', article: '240.4(B)' },
        { code: 'NFPA 70', edition: '2023', article: 'Table 310.16', row: '4 AWG copper' },
      ],
    })
  })
  test('with the whole dwelling on it the 83 % rule makes the same feeder sound', () => {
    const verdict = judge({ ...FOUR_ON_HUNDRED, feederCarriesWholeDwelling: true })
    expect(verdict).toMatchObject({
      outcome: 'sound',
      technician: '4 AWG copper under a 100 A feeder breaker: up to 100 A for a whole dwelling.',
      homeowner: 'The wires to the sub-panel are thick enough for what protects them.',
    })
    expect(articles(verdict)[0]).toBe('310.12')
    expect(figure(verdict, 'Largest device')).toBe(100)
  })
  test('Table 310.12: 110 A for a whole dwelling wants 3 AWG; how far 4 AWG falls short is measured at 83 %', () => {
    const whole = { ...FOUR_ON_HUNDRED, feederBreakerAmps: 110, feederCarriesWholeDwelling: true }
    expect(judge({ ...whole, feederSize: '3' }).outcome).toBe('sound')
    expect(judge(whole)).toMatchObject({
      severity: 'repair',
      technician: '4 AWG copper under a 110 A feeder breaker: 90 A at most.',
    })
    // Without the rule, or before it came in 1975, 110 A is drawn whole, and 4 AWG bears 95 A (100 A as next size).
    expect(judge({ ...whole, feederCarriesWholeDwelling: false })).toMatchObject({ severity: 'unsafe' })
    expect(judge(whole, '1971')).toMatchObject({ severity: 'unsafe' })
  })
  test.each([
    // NFPA 70 240.4(D): 14 AWG 15 A, 12 AWG 20 A, 10 AWG 30 A; aluminium 12 AWG 15 A, 10 AWG 25 A, feeders too.
    ['copper', '14', 15, 20],
    ['copper', '12', 20, 25],
    ['copper', '10', 30, 35],
    ['aluminium', '12', 15, 20],
    ['aluminium', '10', 25, 30],
  ] as const)('a feeder of %s %s AWG: %i A and not %i A', (feederMaterial, feederSize, most, more) => {
    const small = { ...FOUR_ON_HUNDRED, feederMaterial, feederSize }
    expect(judge({ ...small, feederBreakerAmps: most })).toMatchObject({ outcome: 'sound' })
    const verdict = judge({ ...small, feederBreakerAmps: more })
    expect(verdict).toMatchObject({ outcome: 'finding', severity: 'repair' })
    expect(verdict.technician).toMatch(`: ${most} A at most`)
    expect(articles(verdict)[0]).toBe('240.4(D)')
  })
  test('the 83 % rule needs 75 °C terminals', () => {
    expect(
      judge({ ...FOUR_ON_HUNDRED, feederCarriesWholeDwelling: true, feederTerminalC: '60' }),
    ).toMatchObject({
      outcome: 'finding',
      technician: '4 AWG copper under a 100 A feeder breaker: 70 A at most.',
    })
  })
  test('next size up and exact ampacity', () => {
    expect(judge({ ...FOUR_ON_HUNDRED, feederBreakerAmps: 90 })).toMatchObject({
      outcome: 'sound',
      technician: '4 AWG copper under a 90 A feeder breaker: up to 90 A.',
    })
    const three = judge({ ...FOUR_ON_HUNDRED, feederSize: '3' })
    expect(three.outcome).toBe('sound')
    expect(articles(three)[0]).toBe('240.4')
    expect(judge({ ...FOUR_ON_HUNDRED, feederTerminalC: '90' }).outcome).toBe('finding')
  })
  test('more than the 90 °C insulation bears is unsafe', () => {
    expect(judge({ ...FOUR_ON_HUNDRED, feederBreakerAmps: 125 })).toMatchObject({
      severity: 'unsafe',
      technician:
        '4 AWG copper under a 125 A feeder breaker: 90 A at most; more than even 90 °C insulation bears (95 A).',
      homeowner:
        'The wires to the sub-panel are thinner than what protects them allows: under full load they can overheat.',
    })
  })
  test('allowed when built: 8 AWG aluminium, 60 °C, took 30 A in older printings and 35 A now', () => {
    const eight: FeederInputs = {
      ...FOUR_ON_HUNDRED,
      feederMaterial: 'aluminium',
      feederSize: '8',
      feederTerminalC: '60',
      feederBreakerAmps: 35,
    }
    expect(judge(eight, '2023').outcome).toBe('sound')
    expect(judge(eight, '2008')).toMatchObject({ outcome: 'finding', severity: 'repair' })
    expect(judge(eight, '2008', '2011')).toMatchObject({
      severity: 'improve',
      technician:
        '8 AWG aluminium under a 35 A feeder breaker: 30 A at most would be required in new work; 35 A was allowed when built.',
    })
    expect(judge(eight, null)).toMatchObject({ outcome: 'undetermined', missing: [EDITION_MISSING] })
  })
  test('a size the table leaves out is looked at', () => {
    expect(
      judge({ ...FOUR_ON_HUNDRED, feederMaterial: 'aluminium', feederSize: '14', feederBreakerAmps: 15 }),
    ).toMatchObject({
      outcome: 'finding',
      severity: 'investigate',
      technician:
        '14 AWG aluminium under a 15 A feeder breaker: the table has no such conductor; check size and material.',
    })
  })
  test('a service panel has no feeder', () => {
    expect(judge({ ...FOUR_ON_HUNDRED, role: 'service' })).toMatchObject({
      outcome: 'not-applicable',
      why: 'the service panel has no feeder',
    })
  })

  describe('what is not known', () => {
    test('the four that are needed', () => {
      expect(judge({})).toMatchObject({
        missing: [
          FIELDS.role.label,
          FIELDS.feederBreakerAmps.label,
          FIELDS.feederMaterial.label,
          FIELDS.feederSize.label,
        ],
      })
      for (const name of ['role', 'feederBreakerAmps', 'feederMaterial', 'feederSize'] as const) {
        expect(judge({ ...FOUR_ON_HUNDRED, [name]: undefined })).toMatchObject({
          outcome: 'undetermined',
          missing: [FIELDS[name].label],
        })
      }
    })
    test('terminals and the whole dwelling only where they decide', () => {
      expect(judge({ ...FOUR_ON_HUNDRED, feederCarriesWholeDwelling: undefined })).toMatchObject({
        outcome: 'undetermined',
        missing: [FIELDS.feederCarriesWholeDwelling.label],
      })
      expect(judge({ ...FOUR_ON_HUNDRED, feederBreakerAmps: 80, feederTerminalC: undefined })).toMatchObject({
        outcome: 'undetermined',
        missing: [FIELDS.feederTerminalC.label],
      })
      expect(
        judge({ ...FOUR_ON_HUNDRED, feederTerminalC: undefined, feederCarriesWholeDwelling: undefined }),
      ).toMatchObject({ missing: [FIELDS.feederTerminalC.label, FIELDS.feederCarriesWholeDwelling.label] })
      // 8 AWG aluminium at 35 A: only the printing of Table 310.16 decides, whatever the dwelling rule says.
      const eight = { ...FOUR_ON_HUNDRED, feederMaterial: 'aluminium', feederSize: '8' } as const
      expect(
        judge(
          { ...eight, feederBreakerAmps: 35, feederTerminalC: '60', feederCarriesWholeDwelling: undefined },
          null,
        ),
      ).toMatchObject({ missing: [EDITION_MISSING] })
      expect(judge({ ...FOUR_ON_HUNDRED, feederBreakerAmps: 70, feederTerminalC: undefined }).outcome).toBe(
        'sound',
      )
      expect(judge({ ...FOUR_ON_HUNDRED, feederTerminalC: undefined }).outcome).toBe('finding')
    })
  })

  test('what the panel leaves open is read from the circuit that feeds it', () => {
    const feeding = item('c1', 'circuit', { ratingAmps: 60, material: 'copper', size: '6', terminalC: '75' })
    const panel = item('p2', 'panel', { role: 'sub-panel', feederSize: '4' }, { parentId: 'c1' })
    expect(feederAgainstConductor.inputs(panel, homeOf(feeding, panel))).toEqual({
      role: 'sub-panel',
      feederBreakerAmps: 60,
      feederMaterial: 'copper',
      feederSize: '4',
      feederTerminalC: '75',
    })
    expect(feederAgainstConductor.inputs(panel, homeOf(panel))).toEqual({
      role: 'sub-panel',
      feederSize: '4',
    })
    const other = item('c0', 'circuit', {
      ratingAmps: 15,
      material: 'aluminium',
      size: '12',
      terminalC: '60',
    })
    expect(feederAgainstConductor.inputs(panel, homeOf(other, feeding, panel)).feederBreakerAmps).toBe(60)
    const bare = item('p4', 'panel', { role: 'sub-panel' }, { parentId: 'gone' })
    expect(feederAgainstConductor.inputs(bare, homeOf(other, bare))).toEqual({ role: 'sub-panel' })
    const own = item('p3', 'panel', FOUR_ON_HUNDRED, { parentId: 'c1' })
    expect(feederAgainstConductor.inputs(own, homeOf(feeding, own))).toEqual(FOUR_ON_HUNDRED)
    expect(feederAgainstConductor).toMatchObject({
      id: 'overcurrent.feeder-against-conductor',
      kind: 'panel',
      title: 'Feeder breaker against the feeder',
    })
  })

  test('a larger conductor never makes it worse', () => {
    const options = <Name extends 'feederMaterial' | 'feederTerminalC'>(name: Name) =>
      fc.constantFrom(...(Object.keys(FIELDS[name].options) as NonNullable<FeederInputs[Name]>[]))
    const feeders = fc.record(
      {
        role: fc.constant('sub-panel' as const),
        feederBreakerAmps: fc.constantFrom(15, 30, 60, 100, 125, 200, 400, 600),
        feederMaterial: options('feederMaterial'),
        feederSize: fc.constantFrom(...CONDUCTOR_SIZES.slice(3)),
        feederTerminalC: options('feederTerminalC'),
        feederCarriesWholeDwelling: fc.boolean(),
      },
      { requiredKeys: ['role', 'feederBreakerAmps', 'feederMaterial', 'feederSize'] },
    )
    const grades = { watch: 2, improve: 3, investigate: 4, repair: 5, unsafe: 6 }
    const grade = (inputs: FeederInputs, now: Edition | null, built: Edition | null) => {
      const verdict = judge(inputs, now, built)
      return verdict.outcome === 'finding'
        ? grades[verdict.severity]
        : verdict.outcome === 'undetermined'
          ? 1
          : 0
    }
    const editions = fc.constantFrom(...EDITIONS, null)
    fc.assert(
      fc.property(feeders, editions, editions, (feeder, now, built) => {
        const index = CONDUCTOR_SIZES.indexOf(feeder.feederSize)
        const larger = CONDUCTOR_SIZES[Math.min(index + 1, CONDUCTOR_SIZES.length - 1)]!
        expect(grade({ ...feeder, feederSize: larger }, now, built)).toBeLessThanOrEqual(
          grade(feeder, now, built),
        )
      }),
      { numRuns: 400 },
    )
  })
})

describe('bus behind its device; article number from memory', () => {
  const bus = (inputs: BusInputs, now: Edition | null = '2023') =>
    spoken(judgeBus(inputs, under(now, '1990')))

  test.each<[BusInputs, string, string]>([
    [{ role: 'service', busAmps: 200, mainAmps: 200 }, 'sound', '200 A bus behind 200 A.'],
    [{ role: 'service', busAmps: 125, mainAmps: 200 }, 'finding', '125 A bus behind 200 A: 125 A at most.'],
    [
      { role: 'sub-panel', busAmps: 125, mainAmps: 200, feederBreakerAmps: 100 },
      'sound',
      '125 A bus behind 100 A.',
    ],
    [
      { role: 'sub-panel', busAmps: 60, feederBreakerAmps: 100 },
      'finding',
      '60 A bus behind 100 A: 60 A at most.',
    ],
    [
      { role: 'service', busAmps: 125, mainAmps: 200, feederBreakerAmps: 60 },
      'finding',
      '125 A bus behind 200 A: 125 A at most.',
    ],
  ])('%j: %s', (inputs, outcome, technician) => {
    const verdict = bus(inputs)
    expect(verdict).toMatchObject({ rule: 'overcurrent.device-against-bus', outcome, technician })
    if (outcome === 'finding') expect(verdict).toMatchObject({ severity: 'repair' })
    expect(figure(verdict, 'Bus rating')).toBe(inputs.busAmps)
    expect(articles(verdict)).toEqual(['408.36'])
  })
  // NFPA 70 408.36: the device ahead of the bus; a feeder breaker is ahead of a sub-panel only.
  test('without the role a feeder breaker settles nothing that the main does not', () => {
    const unsaid = { busAmps: 125, feederBreakerAmps: 60 }
    expect(bus(unsaid)).toMatchObject({ outcome: 'undetermined', missing: [FIELDS.role.label] })
    expect(bus({ ...unsaid, mainAmps: 200 })).toMatchObject({ missing: [FIELDS.role.label] })
    expect(bus({ ...unsaid, mainAmps: 125 })).toMatchObject({ outcome: 'sound' })
    expect(bus({ ...unsaid, feederBreakerAmps: 150 })).toMatchObject({ outcome: 'finding' })
    expect(bus({ busAmps: 125, mainAmps: 100 })).toMatchObject({ outcome: 'sound' })
  })
  test('the smaller of two devices is the one that protects', () => {
    expect(
      figure(
        bus({ role: 'sub-panel', busAmps: 125, mainAmps: 90, feederBreakerAmps: 100 }),
        'Device that protects it',
      ),
    ).toBe(90)
  })
  test('older editions had it in article 384', () => {
    expect(articles(bus({ role: 'service', busAmps: 200, mainAmps: 200 }, '1999'))).toEqual(['384-16'])
  })
  test('a split bus is not judged here; unknowns are named', () => {
    expect(bus({ splitBus: true })).toMatchObject({
      outcome: 'not-applicable',
      why: 'a split bus has no single main; its throws are counted instead',
    })
    expect(bus({})).toMatchObject({ missing: [FIELDS.busAmps.label, FIELDS.mainAmps.label] })
    expect(bus({ role: 'sub-panel', busAmps: 100 })).toMatchObject({
      missing: [FIELDS.feederBreakerAmps.label],
    })
    expect(bus({ role: 'service', mainAmps: 100 })).toMatchObject({ missing: [FIELDS.busAmps.label] })
  })
  test('reads the record', () => {
    const details = {
      role: 'service',
      busAmps: 200,
      mainAmps: 200,
      feederBreakerAmps: 100,
      splitBus: false,
    } as const
    expect(deviceAgainstBus.inputs(item('p', 'panel', details), homeOf())).toEqual(details)
    expect(deviceAgainstBus).toMatchObject({
      id: 'overcurrent.device-against-bus',
      kind: 'panel',
      title: 'Main or feeder breaker against the panel’s bus',
    })
  })
})
