import { describe, expect, test } from 'vitest'
import { day } from '../../../trade/dates.ts'
import type { Edition } from '../../../trade/editions.ts'
import { EQUIPMENT_FIELDS } from '../../../trade/equipment.ts'
import { EDITION_MISSING } from '../../../trade/judging.ts'
import {
  judgeMultiwire,
  multiwireDisconnect,
  type MultiwireInputs,
} from '../../../trade/overcurrent/multiwire.ts'
import { judgeTenAmp, tenAmpCircuit, type TenAmpInputs } from '../../../trade/overcurrent/ten-amp.ts'
import {
  conductorsPerTerminal,
  judgeConductorsPerTerminal,
  judgeNeutralsPerTerminal,
  neutralsPerTerminal,
} from '../../../trade/overcurrent/terminals.ts'
import { judgeWhiteAsHot, whiteAsHot, type WhiteInputs } from '../../../trade/overcurrent/white-as-hot.ts'
import type { Verdict } from '../../../trade/verdict.ts'
import { homeOf, item, spoken, under } from './verdicts.ts'

const FIELDS = EQUIPMENT_FIELDS.circuit
const missing = (verdict: Verdict) => (verdict.outcome === 'undetermined' ? verdict.missing : null)

describe('multiwire circuits, NFPA 70 210.4(B); since 2008 from memory', () => {
  const judge = (inputs: MultiwireInputs, now: Edition | null = '2023', built: Edition | null = null) =>
    spoken(judgeMultiwire(inputs, under(now, built)))
  const untied = { multiwire: true, poles: 1, handlesTied: false }

  test.each<[Edition | null, Edition | null, string, string | undefined, string]>([
    ['2023', '2008', 'finding', 'repair', 'it was required when this was built'],
    [
      '2023',
      '2005',
      'finding',
      'improve',
      'would be required in new work under the 2023 edition, not when this was built',
    ],
    ['2023', null, 'finding', 'improve', 'would be required in new work under the 2023 edition'],
    [null, '2011', 'finding', 'repair', 'it was required when this was built'],
  ])('untied, now %s, built under %s: %s %s', (now, built, outcome, severity, phrase) => {
    expect(judge(untied, now, built)).toMatchObject({
      rule: 'overcurrent.multiwire-disconnect',
      outcome,
      severity,
      technician: `Multiwire on single-pole breakers without a handle tie; ${phrase}.`,
      references: expect.arrayContaining([expect.objectContaining({ article: '210.4(B)', code: 'NFPA 70' })]),
    })
  })
  test('nobody asks for it under 2005, and without editions nobody can tell', () => {
    expect(judge(untied, '2005', '1996')).toMatchObject({ outcome: 'not-applicable', requiredToday: 'no' })
    expect(judge(untied, null)).toMatchObject({ outcome: 'undetermined', missing: [EDITION_MISSING] })
  })
  test('a local amendment that drops it leaves the one built under it a repair', () => {
    const drop = {
      requirement: 'overcurrent.multiwire-disconnect',
      effect: 'remove',
      from: day('2024-01-01'),
      source: 'town',
    } as const
    const verdict = spoken(judgeMultiwire(untied, under('2023', '2005', [drop])))
    expect(verdict).toMatchObject({ outcome: 'not-applicable', requiredToday: 'no', requiredWhenBuilt: 'no' })
  })
  test('a two-pole breaker or tied handles are sound', () => {
    expect(judge({ multiwire: true, poles: 2 })).toMatchObject({
      outcome: 'sound',
      technician: 'Multiwire on a 2-pole breaker: all its hot wires switch off together.',
      requiredToday: 'yes',
    })
    expect(judge({ multiwire: true, poles: 1, handlesTied: true })).toMatchObject({
      outcome: 'sound',
      technician: 'Multiwire on tied handles: all its hot wires switch off together.',
    })
    expect(judge({ multiwire: true, handlesTied: true }).outcome).toBe('sound')
  })
  test('not multiwire, and what is not known', () => {
    expect(judge({ multiwire: false })).toMatchObject({
      outcome: 'not-applicable',
      why: 'the circuit has a neutral of its own',
    })
    expect(missing(judge({}))).toEqual([FIELDS.multiwire.label])
    expect(missing(judge({ multiwire: true }))).toEqual([FIELDS.poles.label, FIELDS.handlesTied.label])
    expect(missing(judge({ multiwire: true, poles: 1 }))).toEqual([FIELDS.handlesTied.label])
  })
  test('reads the record', () => {
    const details = { multiwire: true, poles: 1, handlesTied: false }
    expect(multiwireDisconnect.inputs(item('c', 'circuit', details), homeOf())).toEqual(details)
    expect(multiwireDisconnect).toMatchObject({
      id: 'overcurrent.multiwire-disconnect',
      kind: 'circuit',
      title: 'Multiwire circuit switched off together',
    })
  })
})

describe('conductors under a breaker terminal, NFPA 70 110.14(A)', () => {
  const judge = (conductorsUnderTerminal?: number, terminalTakesMore?: boolean) =>
    spoken(judgeConductorsPerTerminal({ conductorsUnderTerminal, terminalTakesMore }, under('2023', '1984')))

  test.each([
    [1, undefined, 'sound', 'One conductor under the terminal.'],
    [2, true, 'sound', '2 conductors under a terminal marked for more than one.'],
    [2, false, 'finding', '2 conductors under a terminal made for one.'],
    [3, false, 'finding', '3 conductors under a terminal made for one.'],
  ] as const)('%i, marked for more %s: %s', (conductors, marked, outcome, technician) => {
    const verdict = judge(conductors, marked)
    expect(verdict).toMatchObject({
      rule: 'overcurrent.conductors-per-terminal',
      outcome,
      technician,
      requiredWhenBuilt: 'yes',
      requiredToday: 'yes',
      references: [{ code: 'NFPA 70', edition: '2023', article: '110.14(A)' }],
      figures: [{ label: 'Conductors under the terminal', value: conductors, unit: 'count' }],
    })
    if (outcome === 'finding') expect(verdict).toMatchObject({ severity: 'repair' })
  })
  test('none, and what is not known', () => {
    expect(judge(0)).toMatchObject({
      outcome: 'not-applicable',
      why: 'no conductor under the breaker terminal',
    })
    expect(missing(judge())).toEqual([FIELDS.conductorsUnderTerminal.label])
    expect(missing(judge(2))).toEqual([FIELDS.terminalTakesMore.label])
  })
  test('reads the record', () => {
    const details = { conductorsUnderTerminal: 2, terminalTakesMore: true }
    expect(conductorsPerTerminal.inputs(item('c', 'circuit', details), homeOf())).toEqual(details)
    expect(conductorsPerTerminal).toMatchObject({
      id: 'overcurrent.conductors-per-terminal',
      kind: 'circuit',
      title: 'Conductors under the breaker terminal',
    })
  })
})

describe('neutrals under one terminal, NFPA 70 408.41 (2002 on)', () => {
  const judge = (
    neutralsUnderTerminal?: number,
    built: Edition | null = null,
    now: Edition | null = '2023',
  ) => spoken(judgeNeutralsPerTerminal({ neutralsUnderTerminal }, under(now, built)))

  test('one is sound, two by when it was built', () => {
    expect(judge(1)).toMatchObject({
      outcome: 'sound',
      technician: 'One neutral under its terminal.',
      rule: 'overcurrent.neutrals-per-terminal',
    })
    expect(judge(2, '2002')).toMatchObject({
      outcome: 'finding',
      severity: 'repair',
      technician: '2 neutrals under one terminal; it was required when this was built.',
      figures: [{ label: 'Neutrals under the terminal', value: 2, unit: 'count' }],
    })
    expect(judge(3, '1999')).toMatchObject({
      severity: 'improve',
      requiredWhenBuilt: 'no',
      requiredToday: 'yes',
    })
    expect(judge(2).references[0]).toMatchObject({ edition: '2023', article: '408.41' })
  })
  test('none, and what is not known', () => {
    expect(judge(0)).toMatchObject({ outcome: 'not-applicable', why: 'no neutral under a terminal' })
    expect(missing(judge())).toEqual([FIELDS.neutralsUnderTerminal.label])
    expect(missing(judge(2, null, null))).toEqual([EDITION_MISSING])
  })
  test('reads the record', () => {
    expect(neutralsPerTerminal.inputs(item('c', 'circuit', { neutralsUnderTerminal: 2 }), homeOf())).toEqual({
      neutralsUnderTerminal: 2,
    })
    expect(neutralsPerTerminal).toMatchObject({
      id: 'overcurrent.neutrals-per-terminal',
      kind: 'circuit',
      title: 'Neutrals under one terminal',
    })
  })
})

describe('white wire used as hot, NFPA 70 200.7(C)(1), explicit since 1999', () => {
  const judge = (inputs: WhiteInputs, built: Edition | null = null) =>
    spoken(judgeWhiteAsHot(inputs, under('2023', built)))
  const bare: WhiteInputs = { whiteAsHot: true, whiteRemarked: false, wiring: 'nm' }

  test('not re-marked: work after the 1999 rule is a finding, a 1960s house gets advice', () => {
    expect(judge(bare, '2002')).toMatchObject({
      rule: 'overcurrent.white-as-hot',
      outcome: 'finding',
      severity: 'repair',
      technician: 'White wire used as hot without re-marking; it was required when this was built.',
    })
    expect(judge(bare, '1965')).toMatchObject({
      outcome: 'finding',
      severity: 'improve',
      technician:
        'White wire used as hot without re-marking; would be required in new work under the 2023 edition, not when this was built.',
      references: [expect.objectContaining({ edition: '2023', article: '200.7(C)(1)' })],
    })
  })
  test('a single white conductor in a raceway is wrong however it is marked', () => {
    expect(judge({ ...bare, wiring: 'conductors-in-raceway', whiteRemarked: true })).toMatchObject({
      outcome: 'finding',
      severity: 'repair',
      technician: 'White single conductor used as hot in a raceway; re-marking is for cables only.',
    })
  })
  test('re-marked in a cable is sound; no white hot wire does not concern', () => {
    expect(judge({ ...bare, whiteRemarked: true })).toMatchObject({
      outcome: 'sound',
      technician: 'White wire used as hot is re-marked.',
    })
    expect(judge({ whiteAsHot: false })).toMatchObject({
      outcome: 'not-applicable',
      why: 'no white wire is used as hot',
    })
  })
  test('what is not known', () => {
    expect(missing(judge({}))).toEqual([FIELDS.whiteAsHot.label])
    expect(missing(judge({ whiteAsHot: true }))).toEqual([FIELDS.whiteRemarked.label, FIELDS.wiring.label])
    expect(missing(judge({ whiteAsHot: true, whiteRemarked: true }))).toEqual([FIELDS.wiring.label])
  })
  test('reads the record', () => {
    expect(whiteAsHot.inputs(item('c', 'circuit', bare), homeOf())).toEqual(bare)
    expect(whiteAsHot).toMatchObject({
      id: 'overcurrent.white-as-hot',
      kind: 'circuit',
      title: 'White wire used as hot',
    })
  })
})

describe('10 A circuits, NFPA 70-2023 210.18 and 210.23', () => {
  const judge = (inputs: TenAmpInputs, now: Edition | null = '2023') =>
    spoken(judgeTenAmp(inputs, under(now, now)))

  test.each(['receptacles', 'lighting-and-receptacles', 'small-appliance', 'laundry', 'bathroom'] as const)(
    'may not feed %s',
    (serves) => {
      expect(judge({ ratingAmps: 10, serves })).toMatchObject({
        rule: 'overcurrent.ten-amp-circuit',
        outcome: 'finding',
        severity: 'repair',
        technician: `10 A circuit feeding ${FIELDS.serves.options[serves].toLowerCase()}: not allowed on a 10 A circuit; it was required when this was built.`,
        references: expect.arrayContaining([
          expect.objectContaining({ article: '210.23(A)', edition: '2023' }),
        ]),
      })
    },
  )
  test.each([
    'range',
    'dryer',
    'water-heater',
    'dishwasher',
    'disposer',
    'air-conditioner',
    'heat-pump',
    'electric-heat',
    'motor',
    'vehicle',
    'hot-tub',
    'other',
  ] as const)('feeds a fixed appliance only by exception: %s', (serves) => {
    expect(judge({ ratingAmps: 10, serves })).toMatchObject({
      outcome: 'finding',
      severity: 'investigate',
      technician: `10 A circuit feeding ${FIELDS.serves.options[serves].toLowerCase()}: allowed for a few fixed appliances only; check 210.23(A).`,
    })
  })
  test('lighting and alarms are sound', () => {
    expect(judge({ ratingAmps: 10, serves: 'lighting' })).toMatchObject({
      outcome: 'sound',
      technician: '10 A circuit feeding lighting.',
    })
    expect(judge({ ratingAmps: 10, serves: 'alarms' }).outcome).toBe('sound')
  })
  test('other ratings and spares do not concern', () => {
    expect(judge({ ratingAmps: 15, serves: 'receptacles' })).toMatchObject({
      outcome: 'not-applicable',
      why: 'not a 10 A circuit',
    })
    expect(judge({ ratingAmps: 10, serves: 'spare' })).toMatchObject({
      outcome: 'not-applicable',
      why: 'a spare',
    })
  })
  test('what is not known', () => {
    expect(missing(judge({}))).toEqual([FIELDS.ratingAmps.label])
    expect(missing(judge({ ratingAmps: 10 }))).toEqual([FIELDS.serves.label])
  })
  test('reads the record', () => {
    const details = { ratingAmps: 10, serves: 'lighting' } as const
    expect(tenAmpCircuit.inputs(item('c', 'circuit', details), homeOf())).toEqual(details)
    expect(tenAmpCircuit).toMatchObject({
      id: 'overcurrent.ten-amp-circuit',
      kind: 'circuit',
      title: 'What a 10 A circuit feeds',
    })
  })
})
