import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { CONDUCTOR_SIZES, sizeRank } from '../../../trade/conductors/sizes.ts'
import { disconnectCondition, judgeDisconnectCondition } from '../../../trade/disconnects/condition.ts'
import { disconnectCover, judgeDisconnectCover } from '../../../trade/disconnects/cover.ts'
import {
  judgeNameplateConductor,
  judgeNameplateDevice,
  nameplateConductor,
  type NameplateConductorInputs,
  nameplateDevice,
  type NameplateDeviceInputs,
} from '../../../trade/disconnects/nameplate.ts'
import {
  judgeServiceReceptacle,
  serviceReceptacle,
  type ServiceReceptacleInputs,
} from '../../../trade/disconnects/service-receptacle.ts'
import { disconnectSight, judgeSight, type SightInputs } from '../../../trade/disconnects/sight.ts'
import { EQUIPMENT_FIELDS } from '../../../trade/equipment.ts'
import type { Verdict } from '../../../trade/verdict.ts'
import { articles, figure, homeOf, item, spoken, under } from '../overcurrent/verdicts.ts'

const FIELDS = EQUIPMENT_FIELDS.disconnect
const missing = (verdict: Verdict) => (verdict.outcome === 'undetermined' ? verdict.missing : null)

describe('in sight of the machine, NFPA 70 440.14', () => {
  const good: SightInputs = {
    serves: 'air-conditioner',
    inSight: true,
    distanceFeet: 45,
    reachable: true,
    hidesNameplate: false,
  }
  const judge = (inputs: Partial<SightInputs>, context = under('2023', '1999')) =>
    spoken(judgeSight({ ...good, ...inputs }, context))
  test.each([
    [45, 'sound'],
    [50, 'sound'],
    [51, 'finding'],
    [60, 'finding'],
  ] as const)('visible, %d ft away: %s', (distanceFeet, outcome) => {
    const verdict = judge({ distanceFeet })
    expect(verdict).toMatchObject({ rule: 'disconnects.sight', outcome })
    expect(figure(verdict, 'In sight up to')).toBe(50)
    expect(figure(verdict, FIELDS.distanceFeet.label)).toBe(distanceFeet)
    expect(verdict.technician).toBe(
      outcome === 'sound'
        ? `Disconnect visible, ${distanceFeet} ft away, 50 ft at most; reachable.`
        : `Disconnect ${distanceFeet} ft away, 50 ft at most; it was required when this was built.`,
    )
  })
  test.each([
    [{ inSight: false }, 'not visible from the equipment'],
    [{ reachable: false }, 'not readily reachable'],
    [{ hidesNameplate: true }, 'on an access panel or over the nameplate'],
    [{ inSight: false, distanceFeet: 60 }, 'not visible from the equipment, 60 ft away, 50 ft at most'],
  ] as const)('%o: %s', (inputs, fault) => {
    expect(judge(inputs)).toMatchObject({
      severity: 'repair',
      technician: `Disconnect ${fault}; it was required when this was built.`,
    })
  })
  test('older homes, other machines', () => {
    expect(judge({ inSight: false }, under('2023', '1975'))).toMatchObject({ severity: 'improve' })
    for (const serves of ['heat-pump', 'hot-tub'] as const) {
      expect(judge({ serves, inSight: false })).toMatchObject({ severity: 'repair' })
    }
    for (const serves of ['water-heater', 'other'] as const) {
      expect(judge({ serves, inSight: false })).toMatchObject({
        severity: 'investigate',
        technician: 'Disconnect not visible from the equipment: allowed only where it can be locked open.',
      })
    }
    expect(articles(judge({ inSight: false }, under('2023', '1978')))).toEqual(['440.14', '440.14'])
  })
  test('unknowns', () => {
    expect(missing(judge({ serves: undefined, inSight: false }))).toEqual([FIELDS.serves.label])
    expect(missing(spoken(judgeSight({}, under(null))))).toEqual([
      FIELDS.serves.label,
      FIELDS.inSight.label,
      FIELDS.distanceFeet.label,
      FIELDS.reachable.label,
      FIELDS.hidesNameplate.label,
    ])
    expect(missing(judge({ inSight: false }, under(null)))).toEqual(['Code edition in force'])
    expect(disconnectSight.inputs(item('d', 'disconnect', { ...good, deviceAmps: 30 }), homeOf())).toEqual(
      good,
    )
    expect(disconnectSight.judge({}, under(null)).rule).toBe(disconnectSight.id)
  })
})

describe('conductor against the nameplate, NFPA 70 440.4(B) and Table 310.16', () => {
  const good: NameplateConductorInputs = {
    conductorMaterial: 'copper',
    conductorSize: '10',
    terminalC: '75',
    nameplateMinimumCircuitAmps: 35,
  }
  const judge = (inputs: Partial<NameplateConductorInputs>, context = under('2023', '2020')) =>
    spoken(judgeNameplateConductor({ ...good, ...inputs }, context))
  test.each([
    [{}, 'sound', 35, 75],
    [{ nameplateMinimumCircuitAmps: 35.1 }, 'finding', 35, 75],
    [{ terminalC: '60', nameplateMinimumCircuitAmps: 30 }, 'sound', 30, 60],
    [{ terminalC: '60' }, 'finding', 30, 60],
    [{ terminalC: undefined, nameplateMinimumCircuitAmps: 30 }, 'sound', 30, 60],
    [{ terminalC: undefined, nameplateMinimumCircuitAmps: 40 }, 'finding', 30, 60],
    // The small-conductor limits do not count here: 12 AWG carries 25 A, from memory 240.4(G).
    [{ conductorSize: '12', nameplateMinimumCircuitAmps: 25 }, 'sound', 25, 75],
    [{ conductorMaterial: 'aluminium', nameplateMinimumCircuitAmps: 30 }, 'sound', 30, 75],
    [
      { conductorMaterial: 'aluminium', conductorSize: '14', nameplateMinimumCircuitAmps: 1 },
      'finding',
      0,
      75,
    ],
  ] as const)('%o: %s, carries %d A', (inputs, outcome, carries, celsius) => {
    const verdict = judge(inputs)
    expect(verdict).toMatchObject({
      rule: 'disconnects.conductor',
      outcome,
      ...(outcome === 'finding' && { severity: 'repair' }),
    })
    expect(figure(verdict, 'Ampacity')).toBe(carries)
    expect(verdict.technician).toMatch(` carries ${carries} A at ${celsius} °C, `)
    expect(articles(verdict)).toEqual(['440.4(B)', '110.3(B)', 'Table 310.16'])
  })
  test('words, row and edition', () => {
    const verdict = judge({})
    expect(verdict.technician).toBe('10 AWG copper carries 35 A at 75 °C, 35 A wanted.')
    expect(verdict.references[2]).toEqual({
      code: 'NFPA 70',
      edition: '2020',
      article: 'Table 310.16',
      row: '10 AWG, 75 °C',
    })
    expect(judge({}, under('2023')).references[2]).toMatchObject({ edition: '2023' })
    expect(judge({}, under(null)).references[2]).toMatchObject({ edition: '2026' })
    expect(figure(verdict, FIELDS.nameplateMinimumCircuitAmps.label)).toBe(35)
  })
  test('the marking of the terminals is asked for only where it decides', () => {
    expect(missing(judge({ terminalC: undefined }))).toEqual([FIELDS.terminalC.label])
    expect(missing(spoken(judgeNameplateConductor({}, under(null))))).toEqual([
      FIELDS.conductorMaterial.label,
      FIELDS.conductorSize.label,
      FIELDS.nameplateMinimumCircuitAmps.label,
    ])
    expect(missing(judge({ conductorSize: undefined }))).toEqual([FIELDS.conductorSize.label])
    expect(missing(judge({ conductorMaterial: undefined }))).toEqual([FIELDS.conductorMaterial.label])
    expect(missing(judge({ nameplateMinimumCircuitAmps: undefined }))).toEqual([
      FIELDS.nameplateMinimumCircuitAmps.label,
    ])
  })
  test('a larger conductor is never judged worse', () => {
    const size = fc.constantFrom(...CONDUCTOR_SIZES.filter((each) => sizeRank(each) >= sizeRank('12')))
    fc.assert(
      fc.property(size, size, fc.integer({ min: 1, max: 400 }), (a, b, nameplateMinimumCircuitAmps) => {
        const [less, more] = sizeRank(a) < sizeRank(b) ? [a, b] : [b, a]
        const of = (conductorSize: typeof a) => judge({ conductorSize, nameplateMinimumCircuitAmps }).outcome
        if (of(less) === 'sound') expect(of(more)).toBe('sound')
      }),
    )
  })
  test('inputs', () => {
    expect(nameplateConductor.inputs(item('d', 'disconnect', { ...good, deviceAmps: 30 }), homeOf())).toEqual(
      good,
    )
    expect(nameplateConductor.judge({}, under(null)).rule).toBe(nameplateConductor.id)
  })
})

describe('fuse or breaker against the nameplate', () => {
  const good: NameplateDeviceInputs = {
    deviceKind: 'breaker',
    deviceAmps: 35,
    nameplateMaximumDeviceAmps: 35,
    nameplateSaysFuse: false,
  }
  const judge = (inputs: Partial<NameplateDeviceInputs>) =>
    spoken(judgeNameplateDevice({ ...good, ...inputs }))
  test.each([
    [{}, 'sound', 'Overcurrent device 35 A, nameplate allows 35 A.'],
    // No rounding up to the next size.
    [{ deviceAmps: 40 }, 'finding', 'Overcurrent device 40 A, nameplate allows 35 A.'],
    [{ deviceAmps: 36 }, 'finding', 'Overcurrent device 36 A, nameplate allows 35 A.'],
    [{ deviceAmps: 20 }, 'sound', 'Overcurrent device 20 A, nameplate allows 35 A.'],
    // The smaller of two devices in line protects; a bare switch leaves it to the one ahead.
    [{ deviceAmps: 60, circuitAmps: 35 }, 'sound', 'Overcurrent device 35 A, nameplate allows 35 A.'],
    [{ deviceAmps: 35, circuitAmps: 60 }, 'sound', 'Overcurrent device 35 A, nameplate allows 35 A.'],
    [
      { deviceKind: 'none', deviceAmps: 20, circuitAmps: 60 },
      'finding',
      'Overcurrent device 60 A, nameplate allows 35 A.',
    ],
    [{ nameplateSaysFuse: true }, 'finding', 'Nameplate asks for fuses, breaker found.'],
    [
      { nameplateSaysFuse: true, deviceKind: 'none', circuitAmps: 30 },
      'finding',
      'Nameplate asks for fuses, pull-out or switch only found.',
    ],
    [
      { nameplateSaysFuse: true, deviceKind: 'fuse' },
      'sound',
      'Overcurrent device 35 A, nameplate allows 35 A.',
    ],
  ] as const)('%o: %s', (inputs, outcome, technician) => {
    const verdict = judge(inputs)
    expect(verdict).toMatchObject({
      rule: 'disconnects.device',
      outcome,
      technician,
      ...(outcome === 'finding' && { severity: 'repair' }),
    })
    expect(articles(verdict)).toEqual(['440.4(B)', '110.3(B)'])
    expect(figure(verdict, FIELDS.nameplateMaximumDeviceAmps.label)).toBe(35)
  })
  test('figures and unknowns', () => {
    expect(figure(judge({ deviceAmps: 60, circuitAmps: 30 }), FIELDS.deviceAmps.label)).toBe(30)
    expect(missing(spoken(judgeNameplateDevice({})))).toEqual([
      FIELDS.deviceKind.label,
      FIELDS.nameplateMaximumDeviceAmps.label,
      FIELDS.nameplateSaysFuse.label,
      FIELDS.deviceAmps.label,
    ])
    expect(judgeNameplateDevice({}).figures).toEqual([])
    expect(missing(judge({ deviceKind: 'none' }))).toEqual([FIELDS.circuitAmps.label])
    expect(missing(judge({ deviceAmps: undefined, circuitAmps: 30 }))).toEqual([FIELDS.deviceAmps.label])
    expect(missing(judge({ nameplateSaysFuse: undefined }))).toEqual([FIELDS.nameplateSaysFuse.label])
    expect(missing(judge({ nameplateSaysFuse: true, deviceKind: undefined }))).toEqual([
      FIELDS.deviceKind.label,
    ])
    const details = { ...good, circuitAmps: 40 }
    expect(
      nameplateDevice.inputs(item('d', 'disconnect', { ...details, reachable: true }), homeOf()),
    ).toEqual(details)
    expect(nameplateDevice.judge({}, under(null)).rule).toBe(nameplateDevice.id)
  })
})

describe('service receptacle, from memory: NFPA 70 210.63', () => {
  const judge = (inputs: Partial<ServiceReceptacleInputs>, context = under('2023', '2002')) =>
    spoken(judgeServiceReceptacle({ serves: 'heat-pump', ...inputs }, context))
  test.each([
    [25, 'sound'],
    [26, 'finding'],
  ] as const)('%d ft: %s', (serviceReceptacleFeet, outcome) => {
    const verdict = judge({ serviceReceptacleFeet })
    expect(verdict).toMatchObject({
      rule: 'disconnects.service-receptacle',
      outcome,
      ...(outcome === 'finding' && { severity: 'repair' }),
    })
    expect(figure(verdict, 'Farthest service receptacle')).toBe(25)
    expect(figure(verdict, FIELDS.serviceReceptacleFeet.label)).toBe(serviceReceptacleFeet)
    expect(verdict.technician).toMatch(`Service receptacle ${serviceReceptacleFeet} ft away, 25 ft at most`)
    expect(articles(verdict)).toEqual(['210.63', '210.63'])
  })
  test('old homes, other machines, unknowns', () => {
    expect(judge({ serviceReceptacleFeet: 40 }, under('2023', '1984'))).toMatchObject({ severity: 'improve' })
    expect(judge({ serves: 'air-conditioner', serviceReceptacleFeet: 40 })).toMatchObject({
      outcome: 'finding',
    })
    for (const serves of ['hot-tub', 'water-heater', 'other'] as const) {
      expect(judge({ serves, serviceReceptacleFeet: 99 })).toMatchObject({
        outcome: 'not-applicable',
        why: 'only heating and cooling machines need one',
        requiredToday: 'no',
      })
    }
    expect(missing(judge({ serves: undefined }))).toEqual([FIELDS.serves.label])
    expect(missing(judge({}))).toEqual([FIELDS.serviceReceptacleFeet.label])
    const details = { serves: 'heat-pump', serviceReceptacleFeet: 3 } as const
    expect(serviceReceptacle.inputs(item('d', 'disconnect', details), homeOf())).toEqual(details)
    expect(serviceReceptacle.judge({}, under(null)).rule).toBe(serviceReceptacle.id)
  })
})

describe('inside and cover, common practice', () => {
  test.each([
    ['loose', 'loose connections'],
    ['corroded', 'corrosion'],
    ['nest', 'a nest or debris'],
  ] as const)('%s inside', (insideCondition, words) => {
    expect(spoken(judgeDisconnectCondition({ insideCondition }))).toMatchObject({
      rule: 'disconnects.condition',
      severity: 'repair',
      technician: `Inside of the disconnect: ${words}.`,
      references: [{ code: 'NFPA 70', article: '110.12(B)' }],
    })
  })
  test('clean or unknown', () => {
    expect(spoken(judgeDisconnectCondition({ insideCondition: 'clean' }))).toMatchObject({
      outcome: 'sound',
      technician: 'Inside of the disconnect clean and tight.',
    })
    expect(missing(spoken(judgeDisconnectCondition({})))).toEqual([FIELDS.insideCondition.label])
    const details = { insideCondition: 'nest' } as const
    expect(disconnectCondition.inputs(item('d', 'disconnect', details), homeOf())).toEqual(details)
    expect(disconnectCondition.judge({}, under(null)).rule).toBe(disconnectCondition.id)
  })
  test.each([
    [
      { deadFront: false, coverSound: false },
      'unsafe',
      'Dead front of the disconnect missing: live parts within reach.',
    ],
    [{ deadFront: true, coverSound: false }, 'repair', 'Cover of the disconnect not sound.'],
    [{ coverSound: false }, 'repair', 'Cover of the disconnect not sound.'],
  ] as const)('cover %o: %s', (readings, severity, technician) => {
    expect(spoken(judgeDisconnectCover(readings))).toMatchObject({
      rule: 'disconnects.cover',
      severity,
      technician,
      references: [{ code: 'NFPA 70', article: '110.27' }],
    })
  })
  test('cover sound or unknown', () => {
    const readings = { coverSound: true, deadFront: true }
    expect(spoken(judgeDisconnectCover(readings))).toMatchObject({
      outcome: 'sound',
      technician: 'Cover and dead front of the disconnect sound.',
    })
    expect(missing(spoken(judgeDisconnectCover({})))).toEqual(['Cover sound', 'Dead front in place'])
    expect(disconnectCover.inputs(readings, { space: null }, homeOf())).toEqual(readings)
    expect(disconnectCover.judge({}, under(null)).rule).toBe(disconnectCover.id)
  })
})
