import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { judgeOtherPipingBond, otherPipingBond } from '../../../trade/bonding/circuit-bond.ts'
import { expectedBonds, judgeExpectedBonds } from '../../../trade/bonding/expected.ts'
import { gasBond, type GasBondInputs, judgeGasBond } from '../../../trade/bonding/gas.ts'
import {
  communicationsBond,
  intersystemTermination,
  judgeCommunicationsBond,
  judgeIntersystemTermination,
} from '../../../trade/bonding/intersystem.ts'
import { bondingJumperFor } from '../../../trade/bonding/jumper-size.ts'
import { judgeMainJumper, mainJumper } from '../../../trade/bonding/main-jumper.ts'
import {
  judgeWaterMeterJumper,
  judgeWaterPipingBond,
  waterMeterJumper,
  waterPipingBond,
} from '../../../trade/bonding/water.ts'
import { circularMils } from '../../../trade/conductors/geometry.ts'
import { CONDUCTOR_SIZES, sizeRank } from '../../../trade/conductors/sizes.ts'
import { EQUIPMENT_FIELDS } from '../../../trade/equipment.ts'
import { electrodeConductorFor } from '../../../trade/grounding/electrode-conductor-table.ts'
import type { Verdict } from '../../../trade/verdict.ts'
import { articles, homeOf, item, spoken, under } from '../overcurrent/verdicts.ts'

const FIELDS = EQUIPMENT_FIELDS.bond
const missing = (verdict: Verdict) => (verdict.outcome === 'undetermined' ? verdict.missing : null)
const now = under('2023', '1999')
const built = 'it was required when this was built'

describe('bonding jumper, NFPA 70 Table 250.102(C)(1)', () => {
  test.each([
    ['copper', '250', 1, 'copper', '2'],
    ['copper', '250', 3, 'copper', '2/0'],
    // 4 × 500 = 2000 kcmil, 12.5 % of it = 250 kcmil.
    ['copper', '500', 4, 'copper', '250'],
    ['copper', '2', 1, 'copper', '8'],
    ['aluminium', '4/0', 1, 'aluminium', '2'],
    ['aluminium', '250', 3, 'aluminium', '3/0'],
    ['aluminium', '900', 2, 'aluminium', '250'],
  ] as const)('%s %s, %d in parallel: %s %s', (material, size, parallel, to, jumper) => {
    expect(bondingJumperFor({ material, size, parallel }, to)).toBe(jumper)
  })
  test('up to the last row the sizes are those of Table 250.66', () => {
    for (const size of CONDUCTOR_SIZES) {
      for (const material of ['copper', 'aluminium'] as const) {
        expect(bondingJumperFor({ material, size }, 'copper')).toBe(
          electrodeConductorFor({ material, size }, 'copper').size,
        )
        expect(bondingJumperFor({ material, size, parallel: 1 }, 'aluminium')).toBe(
          electrodeConductorFor({ material, size }, 'aluminium').size,
        )
      }
    }
  })
  test.each([
    // 1050 and 1200 kcmil lie either side of 1100; 1750 and 1800 at the end of the aluminium column.
    ['copper', '350', 3, '2/0'],
    ['copper', '300', 4, '3/0'],
    ['aluminium', '350', 5, '4/0'],
    ['aluminium', '600', 3, '250'],
  ] as const)('%s %s × %d lies at the end of the table: %s', (material, size, parallel, jumper) => {
    expect(bondingJumperFor({ material, size, parallel }, material)).toBe(jumper)
  })
  test('above the table: the smallest size of at least an eighth of the area', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...CONDUCTOR_SIZES.filter((size) => sizeRank(size) >= sizeRank('250'))),
        fc.integer({ min: 2, max: 8 }),
        (size, parallel) => {
          const area = circularMils(size) * parallel
          fc.pre(area > 1_100_000)
          const jumper = bondingJumperFor({ material: 'copper', size, parallel }, 'copper')!
          expect(circularMils(jumper)).toBeGreaterThanOrEqual(area * 0.125)
          const smaller = CONDUCTOR_SIZES[sizeRank(jumper) - 1]!
          expect(circularMils(smaller)).toBeLessThan(area * 0.125)
        },
      ),
    )
  })
  test('no size kept here is large enough for a power station', () => {
    expect(bondingJumperFor({ material: 'copper', size: '900', parallel: 9 }, 'copper')).toBeNull()
  })
})

const good = {
  present: true,
  conductorMaterial: 'copper',
  conductorSize: '4',
  clamp: 'sound',
  reachable: true,
  serviceMaterial: 'copper',
  serviceSize: '2/0',
} as const

describe.each([
  [
    'water-pipe',
    'Water piping bond',
    judgeWaterPipingBond,
    'Table 250.102(C)(1)',
    'service conductors 2/0 copper',
  ],
  [
    'water-meter',
    'Jumper round the water meter',
    judgeWaterMeterJumper,
    'Table 250.66',
    'service conductors up to 3/0 copper',
  ],
] as const)('%s, NFPA 70 250.104(A) and 250.53(D)', (of, name, judgeOne, article, row) => {
  const judge = (inputs: object, context = now) => spoken(judgeOne({ of, ...good, ...inputs }, context))
  test('large enough, clamped and within reach', () => {
    const verdict = judge({})
    expect(verdict).toMatchObject({
      rule: `bonding.${of}`,
      outcome: 'sound',
      technician: `${name} 4 AWG, 4 AWG wanted; clamp sound.`,
    })
    expect(verdict.references).toContainEqual({ code: 'NFPA 70', article, row })
  })
  test.each([
    [{ conductorSize: '6' }, `${name} 6 AWG, 4 AWG wanted; ${built}.`],
    [{ present: false }, `${name} absent; ${built}.`],
    [{ reachable: false }, `${name}: its connection cannot be reached; ${built}.`],
    [{ clamp: 'loose' }, `${name}: clamp loose.`],
    [{ clamp: 'corroded' }, `${name}: clamp corroded.`],
    [{ clamp: 'missing' }, `${name}: clamp missing.`],
  ])('%o is to be mended', (inputs, technician) => {
    expect(judge(inputs)).toMatchObject({ outcome: 'finding', severity: 'repair', technician })
  })
  test.each([
    [{ present: undefined }, [FIELDS.present.label]],
    [
      { conductorMaterial: undefined, conductorSize: undefined },
      [FIELDS.conductorMaterial.label, FIELDS.conductorSize.label],
    ],
    [{ conductorSize: undefined }, [FIELDS.conductorSize.label]],
    [{ conductorMaterial: undefined }, [FIELDS.conductorMaterial.label]],
    [
      { serviceMaterial: undefined, serviceSize: undefined },
      ['Service conductor material', 'Service conductor size'],
    ],
    [{ serviceSize: undefined }, ['Service conductor size']],
    [{ clamp: undefined, reachable: undefined }, [FIELDS.clamp.label, FIELDS.reachable.label]],
    [{ of: undefined }, [FIELDS.of.label]],
  ])('%o leaves it open', (inputs, labels) => {
    expect(missing(judge(inputs))).toEqual(labels)
  })
  test('an old home is improved; an unknown edition leaves it open', () => {
    expect(judge({ present: false }, under('2023', '1965'))).toMatchObject({
      severity: 'improve',
      requiredWhenBuilt: 'unknown',
    })
    expect(missing(judge({ present: false }, under(null)))).toEqual(['Code edition in force'])
  })
  test('another bond is none of its business', () => {
    expect(judge({ of: 'gas-pipe' })).toMatchObject({
      outcome: 'not-applicable',
      why: 'this is a bond of something else',
    })
  })
})

test('articles of the water bonds by edition', () => {
  const none = { of: 'water-pipe', present: false } as const
  expect(articles(judgeWaterPipingBond(none, under('2023', '2011')))).toEqual(['250.104(A)', '250.104(A)(1)'])
  expect(articles(judgeWaterPipingBond(none, under('2023', '1984')))).toEqual(['250-80(a)', '250.104(A)(1)'])
  const meter = { of: 'water-meter', present: false } as const
  expect(articles(judgeWaterMeterJumper(meter, under('2023', '1984')))).toEqual(['250-81(a)', '250.53(D)(1)'])
})

test('water bonds take their sizes from the service', () => {
  const service = item('s', 'service', { conductorMaterial: 'aluminium', conductorSize: '4/0' })
  const bond = item('b', 'bond', {
    ...good,
    serviceMaterial: undefined,
    serviceSize: undefined,
    of: 'water-meter',
  } as never)
  const given = {
    of: 'water-meter',
    present: true,
    conductorMaterial: 'copper',
    conductorSize: '4',
    clamp: 'sound',
    reachable: true,
    serviceMaterial: 'aluminium',
    serviceSize: '4/0',
  }
  expect(waterMeterJumper.inputs(bond, homeOf(service, bond))).toEqual(given)
  expect(waterPipingBond.inputs(bond, homeOf(service, bond))).toEqual(given)
  expect(waterMeterJumper.judge(given as never, now)).toMatchObject({
    outcome: 'sound',
    rule: waterMeterJumper.id,
  })
  expect(waterPipingBond.judge(given as never, now)).toMatchObject({
    outcome: 'not-applicable',
    rule: waterPipingBond.id,
  })
})

describe('corrugated gas tube, NFPA 54 7.12.2', () => {
  const tube: GasBondInputs = {
    of: 'gas-pipe',
    gasPipe: 'corrugated',
    present: true,
    conductorMaterial: 'copper',
    conductorSize: '6',
    lengthFeet: 75,
    clampedOn: 'rigid',
    clamp: 'sound',
    reachable: true,
  }
  const judge = (inputs: Partial<GasBondInputs>, context = now) =>
    spoken(judgeGasBond({ ...tube, ...inputs }, context))
  test('6 AWG copper, 75 ft, clamped on rigid pipe', () => {
    expect(judge({})).toMatchObject({
      rule: 'bonding.gas-pipe',
      outcome: 'sound',
      technician: 'Gas piping bond 6 AWG, 75 ft, on rigid pipe.',
      figures: [
        { label: 'Bond length', value: 75, unit: 'ft' },
        { label: 'Longest bond', value: 75, unit: 'ft' },
      ],
    })
    expect(judge({ gasPipe: 'mixed' })).toMatchObject({ outcome: 'sound' })
    // From memory: 4 AWG aluminium counts as 6 AWG copper.
    expect(judge({ conductorMaterial: 'aluminium', conductorSize: '4' })).toMatchObject({ outcome: 'sound' })
    expect(judge({ conductorMaterial: 'aluminium' })).toMatchObject({ outcome: 'finding' })
  })
  test.each([
    [{ lengthFeet: 80 }, '80 ft long, 75 ft at most'],
    [{ conductorSize: '8' }, '8 AWG, 6 AWG wanted'],
    [{ clampedOn: 'tube' }, 'clamped on the corrugated tube itself; it belongs on rigid pipe or a fitting'],
    [{ clamp: 'loose' }, 'clamp loose'],
    [{ reachable: false }, 'connection cannot be reached'],
    [{ present: false }, 'absent on corrugated tube'],
    [{ lengthFeet: 80, conductorSize: '8' }, '8 AWG, 6 AWG wanted; 80 ft long, 75 ft at most'],
  ] as const)('%o: %s', (inputs, fault) => {
    expect(judge(inputs)).toMatchObject({
      outcome: 'finding',
      severity: 'repair',
      technician: `Gas piping bond: ${fault}.`,
    })
  })
  test('the maker asks for the bond whatever the edition; the fuel-gas codes since 2009', () => {
    expect(judge({ present: false }, under(null))).toMatchObject({ outcome: 'finding', severity: 'repair' })
    expect(judge({}, under('2023', '2005'))).toMatchObject({ requiredWhenBuilt: 'no', requiredToday: 'yes' })
    expect(judge({}, under('2023', '2008'))).toMatchObject({ requiredWhenBuilt: 'unknown' })
    expect(judge({}, under('2023', '2011')).references).toEqual([
      { code: 'NFPA 54', article: '7.12.2', row: 'corrugated stainless tube' },
      { code: "Tube maker's instructions", row: 'direct bond of the tube' },
    ])
    expect(judge({ present: false }).homeowner).toMatch('lightning')
    expect(judge({ clamp: 'loose' }).homeowner).toMatch('should be made better')
  })
  test.each([
    [{ of: undefined }, [FIELDS.of.label]],
    [{ gasPipe: undefined }, [FIELDS.gasPipe.label]],
    [{ present: undefined }, [FIELDS.present.label]],
    [
      {
        conductorMaterial: undefined,
        conductorSize: undefined,
        lengthFeet: undefined,
        clampedOn: undefined,
        clamp: undefined,
        reachable: undefined,
      },
      [
        FIELDS.conductorMaterial.label,
        FIELDS.conductorSize.label,
        FIELDS.lengthFeet.label,
        FIELDS.clampedOn.label,
        FIELDS.clamp.label,
        FIELDS.reachable.label,
      ],
    ],
    [{ conductorMaterial: undefined, conductorSize: '10' }, [FIELDS.conductorMaterial.label]],
  ])('%o leaves it open', (inputs, labels) => {
    expect(missing(judge(inputs as never))).toEqual(labels)
  })
  test('another bond is none of its business', () => {
    expect(judge({ of: 'water-pipe' })).toMatchObject({ outcome: 'not-applicable' })
  })
  test('inputs', () => {
    const details = { ...tube, largestCircuitAmps: 20 }
    expect(gasBond.inputs(item('b', 'bond', details), homeOf())).toEqual(details)
    expect(gasBond.judge(tube, now).rule).toBe(gasBond.id)
  })
})

describe('rigid gas and other metal piping, NFPA 70 250.104(B)', () => {
  const rigid: GasBondInputs = {
    of: 'gas-pipe',
    gasPipe: 'rigid',
    present: true,
    conductorMaterial: 'copper',
    conductorSize: '12',
    clamp: 'sound',
    reachable: true,
    largestCircuitAmps: 20,
  }
  const gas = (inputs: Partial<GasBondInputs>, context = now) =>
    spoken(judgeGasBond({ ...rigid, ...inputs }, context))
  const other = (inputs: Partial<GasBondInputs>, context = now) =>
    spoken(judgeOtherPipingBond({ ...rigid, of: 'other-pipe', ...inputs }, context))
  test.each([
    ['gas', gas, 'Gas piping bond', 'bonding.gas-pipe'],
    ['other', other, 'Bond of other metal piping', 'bonding.other-pipe'],
  ] as const)('%s piping is sized by the circuit that may energise it', (_, judge, name, rule) => {
    expect(judge({})).toMatchObject({
      rule,
      outcome: 'sound',
      technician: `${name} 12 AWG, 12 AWG wanted; clamp sound.`,
    })
    expect(judge({}).references).toContainEqual({
      code: 'NFPA 70',
      article: 'Table 250.122',
      row: 'device up to 20 A',
    })
    expect(judge({ conductorSize: '14' })).toMatchObject({
      outcome: 'finding',
      severity: 'repair',
      technician: `${name} 14 AWG, 12 AWG wanted; ${built}.`,
    })
    expect(judge({ clamp: 'missing' })).toMatchObject({ severity: 'repair' })
    expect(judge({ present: false })).toMatchObject({
      outcome: 'sound',
      technician: `${name}: none of its own; the grounding conductor of the 20 A circuit may serve.`,
    })
    const amps = [FIELDS.largestCircuitAmps.label]
    expect(missing(judge({ present: false, largestCircuitAmps: undefined }))).toEqual(amps)
    expect(missing(judge({ largestCircuitAmps: undefined }))).toEqual(amps)
    expect(missing(judge({ present: undefined }))).toEqual([FIELDS.present.label])
    expect(articles(judge({}, under('2023', '1984')))).toEqual(['250-80(b)', '250.104(B)', 'Table 250.122'])
  })
  test('other piping: another bond is none of its business', () => {
    expect(other({ of: 'water-pipe', present: false })).toMatchObject({ outcome: 'not-applicable' })
    const { gasPipe: _, ...details } = rigid
    expect(otherPipingBond.inputs(item('b', 'bond', rigid), homeOf())).toEqual(details)
    expect(otherPipingBond.judge({}, now).rule).toBe(otherPipingBond.id)
  })
})

describe('communications, NFPA 70 250.94', () => {
  test.each([
    [true, under('2023', '1975'), 'sound'],
    // From memory: first in 2008. Existing homes need not be changed.
    [false, under('2023', '2005'), 'improve'],
    [false, under('2023', '2008'), 'repair'],
  ] as const)('termination present %s: %s', (present, context, answer) => {
    const verdict = spoken(judgeIntersystemTermination({ intersystemTermination: present }, context))
    expect(verdict.rule).toBe('bonding.intersystem-termination')
    expect(verdict.outcome === 'finding' ? verdict.severity : verdict.outcome).toBe(answer)
    expect(articles(verdict)).toContain('250.94')
    expect(verdict.technician).toMatch(
      present ? 'termination present.' : /^No intersystem bonding termination; /,
    )
  })
  test('termination unknown', () => {
    expect(missing(spoken(judgeIntersystemTermination({}, now)))).toEqual([
      EQUIPMENT_FIELDS.service.intersystemTermination.label,
    ])
    const service = item('s', 'service', { intersystemTermination: false })
    expect(intersystemTermination.inputs(service, homeOf())).toEqual({ intersystemTermination: false })
    expect(intersystemTermination.judge({}, now).rule).toBe(intersystemTermination.id)
  })
  const bond = { ...good, of: 'communications', conductorSize: '6' } as const
  const judge = (inputs: object, context = under('2023', '2008')) =>
    spoken(judgeCommunicationsBond({ ...bond, ...inputs }, context))
  test('bond of 6 AWG copper to its source', () => {
    expect(judge({})).toMatchObject({
      rule: 'bonding.communications',
      outcome: 'sound',
      technician: 'Communications bond 6 AWG, 6 AWG wanted; clamp sound.',
    })
    expect(judge({}).references).toContainEqual({
      code: 'NFPA 70',
      article: '250.94',
      row: 'bonding conductor to its source',
    })
    expect(judge({ conductorSize: '8' })).toMatchObject({ severity: 'repair' })
    expect(judge({ conductorMaterial: 'aluminium' })).toMatchObject({ severity: 'repair' })
    expect(judge({ present: false }, under('2023', '1996'))).toMatchObject({ severity: 'improve' })
    expect(judge({ of: 'gas-pipe' })).toMatchObject({ outcome: 'not-applicable' })
    expect(communicationsBond.inputs(item('b', 'bond', { of: 'communications' }), homeOf())).toEqual({
      of: 'communications',
    })
    expect(communicationsBond.judge({}, now).rule).toBe(communicationsBond.id)
  })
})

describe('main bonding jumper', () => {
  test('missing is a danger in any edition', () => {
    expect(spoken(judgeMainJumper({ mainBondingJumper: false }, under(null)))).toMatchObject({
      rule: 'bonding.main-jumper',
      outcome: 'finding',
      severity: 'unsafe',
      technician: 'No main bonding jumper at the service: a ground fault will not trip a breaker.',
    })
    expect(spoken(judgeMainJumper({ mainBondingJumper: true }, now))).toMatchObject({
      outcome: 'sound',
      requiredWhenBuilt: 'yes',
      technician: 'Main bonding jumper in place at the service.',
    })
    expect(articles(judgeMainJumper({ mainBondingJumper: true }, under('2023', '1978')))).toEqual([
      '250-53(b)',
      '250.24(B)',
    ])
    expect(missing(spoken(judgeMainJumper({}, now)))).toEqual([
      EQUIPMENT_FIELDS.service.mainBondingJumper.label,
    ])
    expect(mainJumper.inputs(item('s', 'service', { mainBondingJumper: true }), homeOf())).toEqual({
      mainBondingJumper: true,
    })
    expect(mainJumper.judge({}, now).rule).toBe(mainJumper.id)
  })
})

describe('bonds nobody has written down', () => {
  const none = { hasGasPiping: null, hasWaterPipeElectrode: false, recorded: [] }
  const labels = (inputs: Partial<Parameters<typeof judgeExpectedBonds>[0]>) =>
    judgeExpectedBonds({ ...none, ...inputs }, now).map((verdict) => missing(spoken(verdict)))
  test('a gas bond and a jumper round the meter are asked for where the home should have them', () => {
    expect(labels({})).toEqual([])
    expect(labels({ hasGasPiping: true })).toEqual([['Gas piping']])
    expect(labels({ hasGasPiping: false })).toEqual([])
    expect(labels({ hasWaterPipeElectrode: true })).toEqual([['Jumper round the water meter']])
    expect(
      labels({ hasGasPiping: true, hasWaterPipeElectrode: true, recorded: ['gas-pipe', 'water-meter'] }),
    ).toEqual([])
    expect(labels({ hasGasPiping: true, recorded: ['water-pipe'] })).toHaveLength(1)
  })
  test('inputs from the home', () => {
    const home = homeOf(
      item('w', 'electrode', { kind: 'water-pipe' }),
      item('b', 'bond', { of: 'gas-pipe' }),
      item('c', 'bond', {}),
    )
    const inputs = expectedBonds.inputs({ ...home, property: { ...home.property, hasGasPiping: true } })
    expect(inputs).toEqual({ hasGasPiping: true, hasWaterPipeElectrode: true, recorded: ['gas-pipe'] })
    expect(expectedBonds.judge(inputs, now)).toMatchObject([
      {
        rule: 'bonding.expected',
        inputs: { hasGasPiping: true, hasWaterPipeElectrode: true, recorded: 'gas-pipe' },
        requiredToday: 'yes',
      },
    ])
    expect(expectedBonds.inputs(homeOf(item('r', 'electrode', { kind: 'rod' }))).hasWaterPipeElectrode).toBe(
      false,
    )
    expect(expectedBonds.watches).toEqual(['bond', 'electrode'])
  })
})
