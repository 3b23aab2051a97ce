import { describe, expect, test } from 'vitest'
import type { ConductorMaterial, ConductorSize } from '../../../trade/conductors/sizes.ts'
import { TABLE_310_12 } from '../../../trade/conductors/dwelling.ts'
import { day } from '../../../trade/dates.ts'
import type { Edition } from '../../../trade/editions.ts'
import { EQUIPMENT_FIELDS } from '../../../trade/equipment.ts'
import { EDITION_MISSING } from '../../../trade/judging.ts'
import {
  judgeMainBreaker,
  judgeServiceRating,
  mainAgainstConductors,
  type MainBreakerInputs,
  ratingAgainstConductors,
  type ServiceConductorInputs,
} from '../../../trade/service/conductors.ts'
import {
  type DisconnectInputs,
  judgeDisconnects,
  numberOfDisconnects,
} from '../../../trade/service/disconnects.ts'
import {
  emergencyDisconnect,
  type EmergencyInputs,
  judgeEmergencyDisconnect,
} from '../../../trade/service/emergency-disconnect.ts'
import { judgeMinimumRating, minimumRating } from '../../../trade/service/minimum-rating.ts'
import { judgeOxideInhibitor, oxideInhibitor } from '../../../trade/service/oxide-inhibitor.ts'
import type { Verdict } from '../../../trade/verdict.ts'
import { judgeEquipment } from '../../../trade/whole-home/evaluate.ts'
import { articles, figure, homeOf, item, spoken, under } from '../overcurrent/verdicts.ts'

const FIELDS = EQUIPMENT_FIELDS.service
const missing = (verdict: Verdict) => (verdict.outcome === 'undetermined' ? verdict.missing : null)

describe('service rating against its conductors', () => {
  const judge = (
    inputs: ServiceConductorInputs,
    now: Edition | null = '2023',
    built: Edition | null = null,
  ) => spoken(judgeServiceRating(inputs, under(now, built)))
  const service = (
    ratingAmps: number,
    conductorMaterial: ConductorMaterial,
    conductorSize: ConductorSize,
  ): ServiceConductorInputs => ({ ratingAmps, conductorMaterial, conductorSize, conductorsCorrected: false })

  test.each(TABLE_310_12.map(({ amps, copper, aluminium }) => [amps, copper, aluminium] as const))(
    'NFPA 70-2020 Table 310.12: %i A on %s copper or %s aluminium is sound',
    (amps, copper, aluminium) => {
      expect(judge(service(amps, 'copper', copper)).outcome).toBe('sound')
      expect(judge(service(amps, 'aluminium', aluminium)).outcome).toBe('sound')
    },
  )
  test('200 A on 2/0 copper rests on the dwelling rule, and says so', () => {
    expect(judge(service(200, 'copper', '2/0'))).toMatchObject({
      rule: 'service.rating-against-conductors',
      outcome: 'sound',
      technician: '2/0 AWG copper under a 200 A service: up to 200 A for a whole dwelling.',
      homeowner: 'The wires from the utility to the panel are thick enough for what protects them.',
      references: [
        { code: 'NFPA 70', edition: '2023', article: '310.12' },
        { code: 'NFPA 70', edition: '2023', article: 'Table 310.16', row: '2/0 AWG copper' },
      ],
      figures: [
        { label: 'Device', value: 200, unit: 'A' },
        { label: 'Ampacity at the terminals', value: 175, unit: 'A' },
        { label: 'Largest device', value: 200, unit: 'A' },
      ],
    })
  })
  test('200 A on 4/0 aluminium is the next size up already', () => {
    expect(judge(service(200, 'aluminium', '4/0'))).toMatchObject({
      outcome: 'sound',
      technician: '4/0 AWG aluminium under a 200 A service: up to 200 A.',
    })
  })
  test('200 A on 3/0 aluminium falls short', () => {
    expect(judge(service(200, 'aluminium', '3/0'))).toMatchObject({
      outcome: 'finding',
      severity: 'repair',
      technician: '3/0 AWG aluminium under a 200 A service: 175 A at most.',
    })
    expect(judge(service(200, 'aluminium', '1/0'))).toMatchObject({ severity: 'unsafe' })
  })
  test('before 1975 there was no dwelling rule', () => {
    expect(judge(service(200, 'copper', '2/0'), '1971')).toMatchObject({ outcome: 'finding' })
    expect(judge(service(200, 'copper', '2/0'), '1975').outcome).toBe('sound')
    expect(judge(service(200, 'copper', '2/0'), '1971', '1978')).toMatchObject({ severity: 'improve' })
  })
  test('no conductor passes while nobody said whether the run is hot or bundled: Table 310.16 is for 30 °C', () => {
    for (const size of ['2/0', '3/0', '500'] as const) {
      expect(missing(judge({ ...service(200, 'copper', size), conductorsCorrected: undefined }))).toEqual([
        FIELDS.conductorsCorrected.label,
      ])
    }
  })
  test('a hot or bundled run cannot be passed, only found short', () => {
    const corrected = (size: ConductorSize) =>
      judge({ ...service(200, 'copper', size), conductorsCorrected: true })
    expect(missing(corrected('3/0'))).toEqual([
      'How hot the run gets and how many conductors lie together in it',
    ])
    expect(corrected('1/0')).toMatchObject({
      outcome: 'finding',
      technician: '1/0 AWG copper under a 200 A service: 150 A at most.',
    })
    expect(judge({ ...service(200, 'copper', '1/0'), conductorsCorrected: undefined }).outcome).toBe(
      'finding',
    )
  })
  test('310.12(A): 83 % holds of the corrected ampacity too; 2/0 at 40 °C is 0.91 · 195 A = 177 A ≥ 166 A', () => {
    expect(judge({ ...service(200, 'copper', '2/0'), conductorsCorrected: true }).outcome).toBe(
      'undetermined',
    )
  })
  test('what is not known', () => {
    expect(missing(judge({}))).toEqual([
      FIELDS.ratingAmps.label,
      FIELDS.conductorMaterial.label,
      FIELDS.conductorSize.label,
    ])
    expect(missing(judge({ ...service(200, 'copper', '2/0'), conductorMaterial: undefined }))).toEqual([
      FIELDS.conductorMaterial.label,
    ])
  })
  test('reads the record', () => {
    const details = service(200, 'copper', '2/0')
    expect(ratingAgainstConductors.inputs(item('s', 'service', details), homeOf())).toEqual(details)
    expect(ratingAgainstConductors).toMatchObject({
      id: 'service.rating-against-conductors',
      kind: 'service',
      title: 'Service rating against its conductors',
    })
  })
})

describe('main breaker against the service conductors', () => {
  const judge = (inputs: MainBreakerInputs) => spoken(judgeMainBreaker(inputs, under('2023')))
  const main: MainBreakerInputs = {
    role: 'service',
    mainAmps: 200,
    splitBus: false,
    conductorMaterial: 'aluminium',
    conductorSize: '2/0',
    conductorsCorrected: false,
  }
  test('150 A conductors under a 200 A main', () => {
    expect(judge(main)).toMatchObject({
      rule: 'service.main-against-conductors',
      outcome: 'finding',
      severity: 'unsafe',
      technician:
        '2/0 AWG aluminium under a 200 A main breaker: 150 A at most; more than even 90 °C insulation bears (150 A).',
      inputs: { mainAmps: 200, conductorSize: '2/0' },
    })
    expect(judge({ ...main, mainAmps: 150 })).toMatchObject({
      outcome: 'sound',
      technician: '2/0 AWG aluminium under a 150 A main breaker: up to 150 A.',
    })
  })
  test('not for sub-panels and split buses', () => {
    expect(judge({ ...main, role: 'sub-panel' })).toMatchObject({
      outcome: 'not-applicable',
      why: 'a sub-panel, judged against its feeder',
    })
    expect(judge({ ...main, splitBus: true })).toMatchObject({
      outcome: 'not-applicable',
      why: 'a split bus has no single main breaker',
    })
  })
  test('what is not known', () => {
    expect(missing(judge({ role: undefined, mainAmps: undefined, splitBus: undefined }))).toEqual([
      EQUIPMENT_FIELDS.panel.role.label,
      EQUIPMENT_FIELDS.panel.mainAmps.label,
      FIELDS.conductorMaterial.label,
      FIELDS.conductorSize.label,
    ])
  })
  test('takes the conductors from the only service in use', () => {
    const panel = item('p', 'panel', { role: 'service', mainAmps: 200, splitBus: false })
    const details = { conductorMaterial: 'copper', conductorSize: '2/0', conductorsCorrected: true } as const
    const service = item('s', 'service', details)
    expect(mainAgainstConductors.inputs(panel, homeOf(panel, service))).toEqual({
      role: 'service',
      mainAmps: 200,
      splitBus: false,
      ...details,
    })
    const second = item('s2', 'service', { conductorSize: '4' })
    const open = { role: 'service', mainAmps: 200, splitBus: false }
    expect(mainAgainstConductors.inputs(panel, homeOf(panel, service, second))).toEqual(open)
    expect(mainAgainstConductors.inputs(panel, homeOf(panel))).toEqual(open)
    expect(mainAgainstConductors).toMatchObject({
      id: 'service.main-against-conductors',
      kind: 'panel',
      title: 'Main breaker against the service conductors',
    })
  })
})

describe('smallest service, NFPA 70 230.79(C) as IRC E3602; since 1999 from memory', () => {
  const judge = (ratingAmps?: number, built: Edition | null = null) =>
    spoken(judgeMinimumRating({ ratingAmps }, under('2023', built)))
  test.each<[number, Edition | null, string, string | undefined]>([
    [100, null, 'sound', undefined],
    [200, '1968', 'sound', undefined],
    [60, '1956', 'finding', 'improve'],
    [60, null, 'finding', 'improve'],
    [60, '2002', 'finding', 'repair'],
  ])('%i A, built under %s: %s %s', (amps, built, outcome, severity) => {
    const verdict = judge(amps, built)
    expect(verdict.outcome).toBe(outcome)
    if (severity) expect(verdict).toMatchObject({ severity })
    expect(verdict.technician).toMatch(new RegExp(`^${amps} A service: 100 A is the least`))
    expect(figure(verdict, 'Service rating')).toBe(amps)
    expect(figure(verdict, 'Smallest for a one-family home')).toBe(100)
    expect(articles(verdict)).toContain('230.79(C)')
    expect(verdict.rule).toBe('service.minimum-rating')
  })
  test('unknown, and reading the record', () => {
    expect(missing(judge())).toEqual([FIELDS.ratingAmps.label])
    expect(minimumRating.inputs(item('s', 'service', { ratingAmps: 60 }), homeOf())).toEqual({
      ratingAmps: 60,
    })
    expect(minimumRating).toMatchObject({
      id: 'service.minimum-rating',
      kind: 'service',
      title: 'Smallest service for a home',
    })
  })
})

describe('number of service disconnects, NFPA 70 230.71', () => {
  const judge = (inputs: DisconnectInputs, now: Edition | null = '2023', built: Edition | null = null) =>
    spoken(judgeDisconnects(inputs, under(now, built)))
  const split = { disconnects: 6, disconnectsArrangement: 'one-panelboard' } as const

  test('one is always sound', () => {
    expect(judge({ disconnects: 1 })).toMatchObject({
      rule: 'service.number-of-disconnects',
      outcome: 'sound',
      technician: '1 throw to switch off: 6 at most.',
      figures: [
        { label: 'Throws of the hand', value: 1, unit: 'count' },
        { label: 'Most allowed', value: 6, unit: 'count' },
      ],
    })
  })
  test('more than six is a finding in every edition: count the throws of a split bus', () => {
    expect(judge({ ...split, disconnects: 7 }, '2023', '1965')).toMatchObject({
      outcome: 'finding',
      severity: 'repair',
      technician: '7 throws to switch off: 6 at most.',
      requiredWhenBuilt: 'yes',
      requiredToday: 'yes',
    })
  })
  test('none at all', () => {
    expect(judge({ disconnects: 0 })).toMatchObject({
      outcome: 'finding',
      severity: 'repair',
      technician: 'No service disconnect: one to six are needed.',
    })
  })
  test('2020: several together in one panelboard no longer in new work, in an older home an improvement', () => {
    expect(judge(split, '2020', '1971')).toMatchObject({
      outcome: 'finding',
      severity: 'improve',
      technician:
        '6 disconnects together in one panelboard; would be required in new work under the 2020 edition, not when this was built.',
      requiredWhenBuilt: 'no',
    })
    expect(judge(split, '2020', '2020')).toMatchObject({ severity: 'repair' })
    expect(articles(judge(split, '2020', '1971'))).toEqual(['230.71(B)'])
    expect(figure(judge(split, '2020', '1971'), 'Throws of the hand')).toBe(6)
  })
  test('before 2020 six in one panelboard are sound', () => {
    expect(judge(split, '2017', '1971')).toMatchObject({
      outcome: 'sound',
      technician: '6 throws to switch off: 6 at most.',
    })
    expect(judge({ disconnects: 4 }, '2017', '1971').outcome).toBe('sound')
  })
  test('two to six in enclosures of their own are sound under 2020', () => {
    expect(judge({ disconnects: 2, disconnectsArrangement: 'own-enclosures' }, '2020', '2020').outcome).toBe(
      'sound',
    )
  })
  test('what is not known', () => {
    expect(missing(judge({}))).toEqual([FIELDS.disconnects.label])
    expect(missing(judge({ disconnects: 3 }))).toEqual([FIELDS.disconnectsArrangement.label])
    expect(missing(judge({ disconnects: 3, disconnectsArrangement: 'one' }))).toEqual([
      FIELDS.disconnectsArrangement.label,
    ])
    expect(missing(judge(split, null))).toEqual([EDITION_MISSING])
  })
  test('reads the record, and the throws of a split-bus service panel', () => {
    const panel = item('p', 'panel', { role: 'service', mainThrows: 6, splitBus: true })
    const sub = item('p2', 'panel', { role: 'sub-panel', mainThrows: 2 })
    const inputs = (details: DisconnectInputs, ...panels: (typeof panel)[]) =>
      numberOfDisconnects.inputs(item('s', 'service', details), homeOf(...panels))
    expect(inputs({}, panel, sub)).toEqual({ disconnects: 6, disconnectsArrangement: 'one-panelboard' })
    expect(inputs({ disconnects: 1, disconnectsArrangement: 'one' }, panel)).toEqual({
      disconnects: 1,
      disconnectsArrangement: 'one',
    })
    expect(inputs({}, item('p', 'panel', { role: 'service', mainThrows: 1 }))).toEqual({ disconnects: 1 })
    expect(inputs({}, panel, item('p3', 'panel', { role: 'service', mainThrows: 1 }))).toEqual({})
    expect(numberOfDisconnects).toMatchObject({
      id: 'service.number-of-disconnects',
      kind: 'service',
      title: 'Number of service disconnects',
    })
  })
})

describe('outdoor emergency disconnect, NFPA 70 230.85 (2020), 230.70(A)(1) in 2026', () => {
  const judge = (inputs: EmergencyInputs, now: Edition | null, built: Edition | null = null) =>
    spoken(judgeEmergencyDisconnect(inputs, under(now, built)))
  const absent = { emergencyDisconnect: 'absent' } as const

  test('2023: meter socket only replaced does not trigger it; service equipment does', () => {
    expect(judge({ ...absent, lastReplaced: 'meter-or-conductors' }, '2023', '2023')).toMatchObject({
      outcome: 'finding',
      severity: 'improve',
      requiredWhenBuilt: 'no',
      technician:
        'No outdoor emergency disconnect; would be required in new work under the 2023 edition, not when this was built.',
    })
    expect(judge({ ...absent, lastReplaced: 'service-equipment' }, '2023', '2023')).toMatchObject({
      outcome: 'finding',
      severity: 'repair',
      requiredWhenBuilt: 'yes',
      technician: 'No outdoor emergency disconnect; it was required when this was built.',
    })
    expect(judge({ ...absent, lastReplaced: 'none' }, '2023', '2023')).toMatchObject({ severity: 'repair' })
  })
  test('equipment replaced on an unknown day may have been under any edition; on a known day it is not', () => {
    const replaced = { ...absent, lastReplaced: 'service-equipment' } as const
    expect(judge(replaced, '2023', '1999')).toMatchObject({
      severity: 'improve',
      requiredWhenBuilt: 'unknown',
    })
    expect(judge({ ...replaced, equipmentInstalledOn: day('2018-05-01') }, '2023', '2017')).toMatchObject({
      severity: 'improve',
      requiredWhenBuilt: 'no',
    })
  })
  test('2020 does not speak of replacement, 2023 does in 230.85(C)', () => {
    const replaced = {
      ...absent,
      lastReplaced: 'service-equipment',
      equipmentInstalledOn: day('2021-05-01'),
    } as const
    expect(judge(replaced, '2023', '2020')).toMatchObject({
      severity: 'improve',
      requiredWhenBuilt: 'unknown',
    })
    const later = { ...replaced, equipmentInstalledOn: day('2024-05-01') }
    expect(judge(later, '2023', '2023')).toMatchObject({ severity: 'repair', requiredWhenBuilt: 'yes' })
    expect(judge({ ...absent, lastReplaced: 'none' }, '2023', '2020')).toMatchObject({ severity: 'repair' })
  })
  test('where no edition in force ever asked, a replacement on an unknown day did not either', () => {
    expect(judge({ ...absent, lastReplaced: 'service-equipment' }, '2017', '1984')).toMatchObject({
      outcome: 'not-applicable',
      requiredWhenBuilt: 'no',
    })
    expect(judge({ ...absent, lastReplaced: 'service-equipment' }, null, '1984')).toMatchObject({
      outcome: 'undetermined',
      requiredWhenBuilt: 'unknown',
    })
  })
  test('a service panel newer than the service was put in under the edition of its own day', () => {
    const jurisdiction = {
      name: 'Port Ansel',
      isUs: true,
      adoptions: [
        { edition: '1984', from: day('1985-01-01') },
        { edition: '2023', from: day('2024-01-01') },
      ],
      amendments: [],
    } as const
    const standing = (
      serviceOn: string | null,
      panelOn: string | null,
      lastReplaced?: 'service-equipment',
    ) => {
      const on = (installedOn: string | null) => ({
        installedOn: installedOn === null ? null : day(installedOn),
      })
      const service = item('s', 'service', { ...absent, lastReplaced }, on(serviceOn))
      const home = homeOf(service, item('p', 'panel', { role: 'service' }, on(panelOn)))
      const verdicts = judgeEquipment(
        { ...home, property: { ...home.property, yearBuilt: 1986 } },
        service,
        jurisdiction,
        day('2026-03-02'),
      )
      return verdicts.find(({ rule }) => rule === 'service.emergency-disconnect')!
    }
    expect(standing('1986-06-01', '2024-03-01', 'service-equipment')).toMatchObject({
      severity: 'repair',
      requiredWhenBuilt: 'yes',
    })
    expect(missing(standing('1986-06-01', '2024-03-01'))).toEqual([FIELDS.lastReplaced.label])
    expect(missing(standing(null, '2024-03-01'))).toEqual([FIELDS.lastReplaced.label])
    for (const [serviceOn, panelOn] of [
      ['1986-06-01', '2010-03-01'],
      ['1986-06-01', null],
      [null, null],
    ] as const) {
      expect(standing(serviceOn, panelOn)).toMatchObject({ severity: 'improve', requiredWhenBuilt: 'no' })
    }
    expect(standing('1986-06-01', '2010-03-01', 'service-equipment').requiredWhenBuilt).toBe('no')
    expect(standing(null, null, 'service-equipment').requiredWhenBuilt).toBe('unknown')
  })
  test('2020 does not say whether the meter socket alone triggers it', () => {
    expect(judge({ ...absent, lastReplaced: 'meter-or-conductors' }, '2020', '2020')).toMatchObject({
      severity: 'improve',
      requiredWhenBuilt: 'unknown',
    })
  })
  test('built earlier it is an improvement; under 2017 nobody asks', () => {
    expect(judge(absent, '2020', '1999')).toMatchObject({ outcome: 'finding', severity: 'improve' })
    expect(judge(absent, '2017', '1999')).toMatchObject({ outcome: 'not-applicable' })
    expect(judge({ ...absent, lastReplaced: 'meter-or-conductors' }, '2017', '2014')).toMatchObject({
      outcome: 'not-applicable',
      requiredWhenBuilt: 'no',
    })
  })
  test.each<[Edition, string]>([
    ['2020', '230.85'],
    ['2023', '230.85'],
    ['2026', '230.70(A)(1)'],
  ])('under %s it stands in %s', (edition, article) => {
    expect(articles(judge(absent, edition, '1999'))).toEqual([article])
  })
  test('present, or present without its marking', () => {
    expect(judge({ emergencyDisconnect: 'present' }, '2023', '1999')).toMatchObject({
      rule: 'service.emergency-disconnect',
      outcome: 'sound',
      technician: 'Outdoor emergency disconnect present and marked.',
    })
    expect(judge({ emergencyDisconnect: 'not-marked', lastReplaced: 'none' }, '2023', '2020')).toMatchObject({
      outcome: 'finding',
      severity: 'repair',
      technician:
        'Outdoor emergency disconnect not marked (EMERGENCY DISCONNECT, SERVICE DISCONNECT); it was required when this was built.',
    })
  })
  test('what is not known', () => {
    expect(missing(judge({}, '2023'))).toEqual([FIELDS.emergencyDisconnect.label])
    expect(missing(judge(absent, '2023', '2023'))).toEqual([FIELDS.lastReplaced.label])
    expect(missing(judge(absent, null))).toEqual([EDITION_MISSING])
    expect(judge({ ...absent, lastReplaced: 'meter-or-conductors' }, '2023')).toMatchObject({
      requiredWhenBuilt: 'unknown',
      severity: 'improve',
    })
  })
  test('reads the record', () => {
    const details = { emergencyDisconnect: 'present', lastReplaced: 'none' } as const
    const installedOn = day('1985-05-01')
    const service = item('s', 'service', details, { installedOn })
    const panel = (id: string, role: 'service' | 'sub-panel', on: string | null) =>
      item(id, 'panel', { role }, { installedOn: on === null ? null : day(on) })
    const others = [
      panel('p1', 'service', '2021-02-01'),
      panel('p2', 'service', '2020-02-01'),
      panel('p3', 'service', null),
      panel('p4', 'sub-panel', '2025-02-01'),
    ]
    expect(emergencyDisconnect.inputs(service, homeOf(service, ...others))).toEqual({
      ...details,
      equipmentInstalledOn: day('2021-02-01'),
    })
    const read = (each: typeof service, ...pieces: Parameters<typeof homeOf>) =>
      emergencyDisconnect.inputs(each, homeOf(...pieces)).equipmentInstalledOn
    expect(read(service, ...others)).toBe('2021-02-01')
    expect(read(service)).toBe('1985-05-01')
    expect(read(item('s', 'service', details, { installedOn: day('2024-01-01') }), ...others)).toBe(
      '2024-01-01',
    )
    // Which of two services the panel hangs on is not recorded.
    expect(read(service, service, item('s2', 'service', {}), ...others)).toBe('1985-05-01')
    // A new meter socket has its own day, and the panel behind it another.
    const meter = item('s', 'service', { lastReplaced: 'meter-or-conductors' }, { installedOn })
    expect(read(meter, ...others)).toBe('1985-05-01')
    expect(emergencyDisconnect).toMatchObject({
      id: 'service.emergency-disconnect',
      kind: 'service',
      title: 'Outdoor emergency disconnect',
    })
  })
})

describe('oxide inhibitor on aluminium (common practice, no source)', () => {
  const judge = (conductorMaterial?: ConductorMaterial, found?: 'present' | 'dried-out' | 'none') =>
    spoken(judgeOxideInhibitor({ conductorMaterial, oxideInhibitor: found }, under('2023')))
  test.each([
    ['present', 'sound', undefined, 'Oxide inhibitor on the aluminium.'],
    [
      'dried-out',
      'finding',
      'watch',
      'Oxide inhibitor on the aluminium dried out; renew with the power off at the utility.',
    ],
    [
      'none',
      'finding',
      'improve',
      'No oxide inhibitor on the aluminium; check what the lug’s maker asks for.',
    ],
  ] as const)('%s: %s %s', (found, outcome, severity, technician) => {
    const verdict = judge('aluminium', found)
    expect(verdict).toMatchObject({
      rule: 'service.oxide-inhibitor',
      outcome,
      technician,
      references: [{ code: 'common practice' }],
      requiredToday: 'no',
      requiredWhenBuilt: 'no',
    })
    if (severity) expect(verdict).toMatchObject({ severity })
  })
  test('copper needs none; copper-clad is treated as aluminium; unknowns are named', () => {
    expect(judge('copper')).toMatchObject({ outcome: 'not-applicable', why: 'copper conductors need none' })
    expect(judge('copper-clad', 'none').outcome).toBe('finding')
    expect(missing(judge())).toEqual([FIELDS.conductorMaterial.label, FIELDS.oxideInhibitor.label])
    expect(missing(judge('aluminium'))).toEqual([FIELDS.oxideInhibitor.label])
  })
  test('reads the record', () => {
    const details = { conductorMaterial: 'aluminium', oxideInhibitor: 'none' } as const
    expect(oxideInhibitor.inputs(item('s', 'service', details), homeOf())).toEqual(details)
    expect(oxideInhibitor).toMatchObject({
      id: 'service.oxide-inhibitor',
      kind: 'service',
      title: 'Oxide inhibitor on aluminium',
    })
  })
})
