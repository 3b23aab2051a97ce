import { describe, expect, test } from 'vitest'
import { day } from '../../../trade/dates.ts'
import { EQUIPMENT_FIELDS } from '../../../trade/equipment.ts'
import {
  judgeOutdoorOutlet,
  outdoorOutlet,
  type OutdoorOutletInputs,
} from '../../../trade/ground-fault/outdoor-outlet.ts'
import type { Verdict } from '../../../trade/verdict.ts'
import { articles, figure, homeOf, item, spoken, under } from '../overcurrent/verdicts.ts'

const FIELDS = EQUIPMENT_FIELDS.disconnect
const missing = (verdict: Verdict) => (verdict.outcome === 'undetermined' ? verdict.missing : null)
const outlet: OutdoorOutletInputs = {
  serves: 'other',
  voltsToGround: 120,
  circuitAmps: 50,
  groundFaultProtected: false,
  place: 'outdoors',
}
const judge = (inputs: Partial<OutdoorOutletInputs>, context = under('2023', '2017')) =>
  spoken(judgeOutdoorOutlet({ ...outlet, ...inputs }, context))

describe('outdoor outlets, NFPA 70 210.8(F)', () => {
  test.each([
    ['2017', {}, 'no'],
    ['2020', {}, 'yes'],
    ['2020', { circuitAmps: 51 }, 'no'],
    ['2023', { circuitAmps: 60 }, 'no'],
    ['2026', { circuitAmps: 60 }, 'yes'],
    ['2026', { circuitAmps: 61 }, 'no'],
    ['2020', { place: 'garage' }, 'no'],
    ['2023', { place: 'garage' }, 'yes'],
    ['2023', { place: 'accessory-building' }, 'yes'],
    ['2020', { place: 'accessory-building' }, 'no'],
    ['2023', { place: 'utility' }, 'no'],
    // A condenser of 240 V 60 A outdoors: 2023 outside the rule, 2026 inside.
    ['2023', { serves: 'air-conditioner', circuitAmps: 60 }, 'no'],
    ['2026', { serves: 'air-conditioner', circuitAmps: 60 }, 'yes'],
  ] as const)('under %s, %o: required %s', (edition, inputs, required) => {
    const verdict = judge(inputs, under(edition, '2017'))
    expect(verdict).toMatchObject({
      rule: 'ground-fault.outdoor-outlet',
      requiredToday: required,
      requiredWhenBuilt: 'no',
    })
    expect(verdict.outcome).toBe(required === 'yes' ? 'finding' : 'not-applicable')
  })
  test.each([
    // Exception of the 2023 edition for listed heating and cooling, until 2026-09-01.
    ['2023', '2026-08-31', 'no'],
    ['2023', '2026-09-01', 'yes'],
    // TIA 20-13.
    ['2020', '2022-12-31', 'no'],
    ['2020', '2023-01-01', 'yes'],
    ['2026', '2026-03-02', 'yes'],
  ] as const)('heat pump under %s on %s: %s', (edition, on, required) => {
    const context = { ...under(edition), today: day(on) }
    expect(judge({ serves: 'heat-pump' }, context)).toMatchObject({ requiredToday: required })
    expect(judge({ serves: 'air-conditioner' }, context)).toMatchObject({ requiredToday: required })
    expect(judge({ serves: 'hot-tub' }, context)).toMatchObject({ requiredToday: 'yes' })
  })
  test('severity by clock, figures and article', () => {
    const now = judge({})
    expect(now).toMatchObject({
      severity: 'improve',
      technician:
        'Outdoor outlet of 50 A without ground-fault protection; would be required in new work under the 2023 edition, not when this was built.',
      references: [
        {
          code: 'NFPA 70',
          edition: '2023',
          article: '210.8(F)',
          row: 'outdoor outlet up to 50 A, 150 V to ground',
        },
      ],
    })
    expect(figure(now, FIELDS.circuitAmps.label)).toBe(50)
    expect(figure(now, FIELDS.voltsToGround.label)).toBe(120)
    expect(judge({}, under('2023', '2020'))).toMatchObject({ severity: 'repair' })
    expect(judge({ circuitAmps: 60 }).references[0]).toMatchObject({ row: 'above 50 A' })
    expect(judge({ place: 'utility' }).references[0]).toMatchObject({ row: 'not outdoors' })
    expect(judge({ serves: 'heat-pump' }).references[0]).toMatchObject({
      row: 'exception for listed heating and cooling',
    })
  })
  test('above 150 V to ground it is not asked', () => {
    expect(judge({ voltsToGround: 151 })).toMatchObject({
      outcome: 'not-applicable',
      why: 'more than 150 V to ground',
      requiredToday: 'no',
    })
    expect(judge({ voltsToGround: 150 })).toMatchObject({ outcome: 'finding' })
  })
  test('protected is sound whatever the edition', () => {
    expect(judge({ groundFaultProtected: true, place: null }, under(null))).toMatchObject({
      outcome: 'sound',
      technician: 'Outdoor outlet ground-fault protected.',
    })
    expect(articles(judge({ groundFaultProtected: true }))).toEqual(['210.8(F)'])
  })
  test('a local change may drop it for heating and cooling, or for all', () => {
    const change = (requirement: string) =>
      under('2026', '2017', [
        { requirement, effect: 'remove', from: day('2024-01-01'), source: 'Port Ansel 12-3' },
      ])
    const cooling = 'ground-fault.outdoor-outlet/heating-and-cooling'
    expect(judge({ serves: 'heat-pump' }, change(cooling))).toMatchObject({ outcome: 'not-applicable' })
    expect(judge({}, change(cooling))).toMatchObject({ outcome: 'finding' })
    expect(judge({}, change('ground-fault.outdoor-outlet'))).toMatchObject({ outcome: 'not-applicable' })
  })
  test.each([
    [
      { serves: undefined, voltsToGround: undefined, circuitAmps: undefined, place: null },
      ['Room or place', FIELDS.circuitAmps.label, FIELDS.voltsToGround.label, FIELDS.serves.label],
    ],
    [{ groundFaultProtected: undefined }, [FIELDS.groundFaultProtected.label]],
  ])('%o leaves it open', (inputs, labels) => {
    expect(missing(judge(inputs as never))).toEqual(labels)
  })
  test('unknown protection matters only where it is asked for; unknown editions are asked for', () => {
    expect(judge({ groundFaultProtected: undefined }, under('2017', '2014'))).toMatchObject({
      outcome: 'not-applicable',
    })
    expect(missing(judge({}, under(null)))).toEqual(['Code edition in force'])
  })
  test('inputs', () => {
    const { place: _, ...details } = outlet
    const unit = item('d', 'disconnect', details, { spaceId: 's' })
    const home = { ...homeOf(unit), spaces: [{ id: 's', kind: 'outdoors', name: 'Yard', level: 0 } as const] }
    expect(outdoorOutlet.inputs(unit, home)).toEqual(outlet)
    expect(outdoorOutlet.inputs(unit, homeOf(unit)).place).toBeNull()
    expect(outdoorOutlet.judge(outlet, under(null)).rule).toBe(outdoorOutlet.id)
  })
})
