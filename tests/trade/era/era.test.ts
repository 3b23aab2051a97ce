import { describe, expect, test } from 'vitest'
import {
  aluminiumBranch,
  type AluminiumInputs,
  judgeAluminiumBranch,
} from '../../../trade/era/aluminium-branch.ts'
import { ERA_HINTS } from '../../../trade/era/hints.ts'
import { groundedPlacesExpected, judgeLookFor, lookFor, whatToLookFor } from '../../../trade/era/look-for.ts'
import { judgeOldWiring, oldWiring } from '../../../trade/era/old-wiring.ts'
import { context, d, device, home } from '../alarms/build.ts'

const NOW = context('2023')
const hints = (yearBuilt: number | null, yearAltered: number | null = null) =>
  whatToLookFor({ yearBuilt, yearAltered }).map(({ id, confidence }) => `${id} ${confidence}`)

describe('what the year suggests', () => {
  test.each<[number, string[], string]>([
    [1879, [], 'before all of it'],
    [1885, ['knob-and-tube possible', 'two-wire-circuits likely'], 'widest window of knob and tube'],
    [1900, ['knob-and-tube likely', 'two-wire-circuits likely'], 'home-inspection writers'],
    [1925, ['knob-and-tube likely', 'early-armoured-cable likely', 'two-wire-circuits likely'], '1920s'],
    [
      1940,
      [
        'knob-and-tube possible',
        'early-armoured-cable likely',
        'cloth-cable likely',
        'two-wire-circuits likely',
      ],
      'disputed end of knob and tube',
    ],
    [
      1958,
      ['cloth-cable likely', 'two-wire-circuits likely', 'split-bus-panel possible'],
      'CHK: two-wire prompt',
    ],
    [
      1960,
      ['cloth-cable likely', 'two-wire-circuits likely', 'split-bus-panel possible'],
      'CHK: no aluminium before 1965',
    ],
    [1962, ['cloth-cable likely', 'two-wire-circuits likely', 'split-bus-panel possible'], 'NFPA 70-1962'],
    [
      1964,
      ['cloth-cable likely', 'two-wire-circuits possible', 'split-bus-panel possible'],
      'UL history paper',
    ],
    [
      1968,
      [
        'cloth-cable likely',
        'two-wire-circuits possible',
        'split-bus-panel possible',
        'aluminium-branch-wiring likely',
      ],
      'CHK: CPSC, aluminium prompt on',
    ],
    [1973, ['split-bus-panel possible', 'aluminium-branch-wiring likely'], 'CPSC: last year'],
    [1974, ['split-bus-panel possible', 'aluminium-branch-wiring possible'], 'CHK: CPSC 516, low confidence'],
    [1977, ['split-bus-panel possible'], 'after the mid-1970s'],
    [1985, ['split-bus-panel possible'], 'mid-1980s'],
    [1986, [], 'after all of it'],
  ])('built %i: %j (%s)', (year, expected) => {
    expect(hints(year)).toEqual(expected)
  })

  test('an alteration adds, never surely, and takes nothing away', () => {
    expect(hints(1990, 1968)).toEqual([
      'cloth-cable possible',
      'two-wire-circuits possible',
      'split-bus-panel possible',
      'aluminium-branch-wiring possible',
    ])
    expect(hints(1968, 2010)).toEqual(hints(1968))
    const both = whatToLookFor({ yearBuilt: 1966, yearAltered: 1974 })
    expect(both.find(({ id }) => id === 'aluminium-branch-wiring')).toMatchObject({
      confidence: 'likely',
      year: 1966,
    })
    expect(whatToLookFor({ yearBuilt: 1990, yearAltered: 1974 }).at(-1)).toMatchObject({ year: 1974 })
    expect(hints(null, 1968)).toContain('aluminium-branch-wiring possible')
    expect(hints(null)).toEqual([])
  })

  test('every hint says where to look and where it was seen', () => {
    for (const { look, what, source } of ERA_HINTS) {
      expect([what.length > 5, look.length > 20, source.length > 5]).toEqual([true, true, true])
    }
  })

  test.each([
    [1946, []],
    [1947, ['laundry']],
    [1958, ['laundry', 'porches, garages and breezeways']],
    [1974, ['laundry', 'porches, garages and breezeways', 'all receptacles on 15 and 20 A circuits']],
  ])(
    'grounded receptacles expected, built %i: %j (NFPA 70-1947, 1956; 1971 or 1975 disputed)',
    (year, places) => {
      expect(groundedPlacesExpected(year)).toEqual(places)
    },
  )
})

describe('look-for verdict', () => {
  const judge = (yearBuilt: number | null, answered: string[] = [], yearAltered: number | null = null) =>
    judgeLookFor({ yearBuilt, yearAltered, answered }, NOW)[0]!

  test('open until somebody has looked', () => {
    const verdict = judge(1968, ['cloth-cable', 'two-wire-circuits'])
    expect(verdict).toMatchObject({
      rule: 'era.look-for',
      outcome: 'undetermined',
      inputs: { yearBuilt: 1968, suggested: 4, open: 2 },
      requiredToday: 'no',
      requiredWhenBuilt: 'no',
    })
    expect(verdict.outcome === 'undetermined' && verdict.missing).toEqual([
      expect.stringMatching(/^Split-bus panel without one main disconnect \(possible\)\. Panel: /),
      expect.stringMatching(/^Small aluminium branch wiring \(likely\)\. Panel and boxes: /),
    ])
    expect(verdict.references).toContainEqual({
      code: 'common practice',
      article: 'CPSC release 2003 (1965–1973); CPSC 516, 2011 (to the mid-1970s)',
      row: 'Small aluminium branch wiring',
    })
  })
  test('all looked at, and old breakers told', () => {
    const verdict = judge(1980, ['split-bus-panel'])
    expect(verdict.outcome).toBe('sound')
    expect(verdict.technician).toBe(
      'Looked at: split-bus panel without one main disconnect. Breakers of that time are past their usual 40 years.',
    )
    const onTheLine = judgeLookFor(
      { yearBuilt: 1985, yearAltered: null, answered: ['split-bus-panel'] },
      context('2023', null, { today: d('2025-06-01') }),
    )
    expect(onTheLine[0]!.technician).toBe('Looked at: split-bus panel without one main disconnect.')
  })
  test('nothing usual in homes of that year; year unknown', () => {
    expect(judge(2005)).toMatchObject({ outcome: 'not-applicable' })
    expect(judge(null)).toMatchObject({ outcome: 'undetermined', missing: ['Year built'] })
    const altered = judge(null, [], 1974)
    expect(altered.outcome === 'undetermined' && altered.missing.length).toBe(3)
  })

  const circuit = (details: Parameters<typeof device<'circuit'>>[1]) => device('circuit', details)
  test.each([
    [[circuit({ wiring: 'nm' })], ['knob-and-tube', 'early-armoured-cable', 'cloth-cable']],
    [[circuit({ material: 'copper' })], ['aluminium-branch-wiring']],
    [[circuit({ wiring: 'nm' }), circuit({})], []],
    [[circuit({ material: 'copper' }), circuit({})], []],
    [[device('receptacle', { groundPresent: false })], ['two-wire-circuits']],
    [[device('receptacle', { groundPresent: true }), device('receptacle', {})], []],
    [[device('panel', { splitBus: false })], ['split-bus-panel']],
    [[device('panel', { splitBus: true }), device('panel', {})], []],
    [[], []],
  ])('what the record answers: case %#', (equipment, answered) => {
    expect(lookFor.inputs(home([], equipment, { yearBuilt: 1968, yearAltered: 1990 }))).toEqual({
      yearBuilt: 1968,
      yearAltered: 1990,
      answered,
    })
  })
  test('watches what answers it', () => {
    expect(lookFor.watches).toEqual(['circuit', 'receptacle', 'panel'])
  })
})

describe('aluminium branch wiring: CPSC 516', () => {
  const small = { material: 'aluminium', size: '12', stranded: false } as const

  test.each([
    ['rewired', 'sound'],
    ['crimped-pigtail', 'sound'],
    ['setscrew-connector', 'sound'],
    ['twist-on', 'finding'],
    ['co-alr', 'finding'],
    ['none', 'finding'],
  ] as const)('repair %s: %s', (aluminiumRepair, outcome) => {
    const verdict = judgeAluminiumBranch({ ...small, aluminiumRepair })
    expect(verdict).toMatchObject({
      rule: 'era.aluminium-branch',
      outcome,
      references: [{ code: 'CPSC 516', edition: '2011' }],
    })
    if (verdict.outcome === 'finding') expect(verdict.severity).toBe('repair')
  })
  test('CHK: twist-ons are not CPSC-accepted', () => {
    expect(judgeAluminiumBranch({ ...small, aluminiumRepair: 'twist-on' }).technician).toBe(
      'Aluminium 12 AWG, Twist-on connectors: not accepted by the CPSC as permanent.',
    )
    expect(judgeAluminiumBranch({ ...small, aluminiumRepair: 'none' }).technician).toBe(
      'Aluminium 12 AWG, no repair seen.',
    )
    expect(judgeAluminiumBranch({ ...small, aluminiumRepair: 'crimped-pigtail' }).technician).toBe(
      'Cold-weld crimped pigtails: accepted by the CPSC as permanent.',
    )
  })
  test.each<[AluminiumInputs, string, string]>([
    [
      { material: 'aluminium', size: '8', stranded: true, aluminiumRepair: 'none' },
      'not-applicable',
      'CHK: range feeder',
    ],
    [{ material: 'aluminium', size: '8', aluminiumRepair: 'none' }, 'not-applicable', 'usually stranded'],
    [{ material: 'aluminium', size: '4/0', aluminiumRepair: 'none' }, 'not-applicable', 'feeder'],
    [{ material: 'aluminium', size: '8', stranded: false, aluminiumRepair: 'none' }, 'finding', 'solid'],
    [{ material: 'aluminium', size: '10', stranded: true, aluminiumRepair: 'none' }, 'finding', 'small'],
    [
      { material: 'copper-clad', size: '12', aluminiumRepair: 'none' },
      'not-applicable',
      'CPSC 516: Cu-clad is outside',
    ],
    [{ material: 'copper', size: '12' }, 'not-applicable', 'copper'],
  ])('%j: %s (%s)', (inputs, outcome) => {
    expect(judgeAluminiumBranch(inputs).outcome).toBe(outcome)
  })
  test.each([
    [{}, ['Conductor material']],
    [{ material: 'aluminium' }, ['Conductor size']],
    [small, ['Repair of aluminium connections']],
  ] as const)('%j: not known %j', (inputs, missing) => {
    expect(judgeAluminiumBranch(inputs)).toMatchObject({ outcome: 'undetermined', missing })
  })
  test('inputs', () => {
    const details = { ...small, aluminiumRepair: 'none' } as const
    expect(aluminiumBranch.inputs(device('circuit', { ...details, poles: 1 }), home([]))).toEqual(details)
  })
})

describe('old wiring methods: NFPA 73', () => {
  test.each([
    ['knob-and-tube', 'finding', 'investigate'],
    ['cloth', 'finding', 'watch'],
    ['nm', 'sound', undefined],
    ['armoured', 'sound', undefined],
  ] as const)('%s: %s %s', (wiring, outcome, severity) => {
    const verdict = judgeOldWiring({ wiring })
    expect(verdict).toMatchObject({ rule: 'era.old-wiring', outcome, references: [{ code: 'NFPA 73' }] })
    expect(verdict.outcome === 'finding' ? verdict.severity : undefined).toBe(severity)
  })
  test('outlets added to knob and tube are told', () => {
    const words = (addedOutlets?: boolean) =>
      judgeOldWiring({ wiring: 'knob-and-tube', addedOutlets }).technician
    expect(words(true)).toContain('Outlets were added')
    expect(words(false)).not.toContain('Outlets were added')
    expect(words()).toBe('Knob and tube: look for insulation round it, splices and overfusing.')
  })
  test('unknown, and inputs', () => {
    expect(judgeOldWiring({})).toMatchObject({ outcome: 'undetermined', missing: ['Wiring'] })
    const details = { wiring: 'cloth', addedOutlets: true } as const
    expect(oldWiring.inputs(device('circuit', { ...details, poles: 1 }), home([]))).toEqual(details)
  })
})
