import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { day } from '../../../trade/dates.ts'
import { type Equipment, EQUIPMENT_FIELDS } from '../../../trade/equipment.ts'
import { surgeCheckDue, surgeReplaceBy } from '../../../trade/surge/dates.ts'
import {
  judgeNominalCurrent,
  judgeSurgeLeads,
  judgeSurgeType,
  nominalCurrent,
  surgeLeads,
  surgeType,
} from '../../../trade/surge/device.ts'
import { type IndicatorInputs, judgeIndicator, surgeIndicator } from '../../../trade/surge/indicator.ts'
import { judgeSurgeRequired, surgeRequired, type SurgeRequiredInputs } from '../../../trade/surge/required.ts'
import type { Verdict } from '../../../trade/verdict.ts'
import type { Jurisdiction } from '../../../trade/whole-home/context.ts'
import { evaluateHome } from '../../../trade/whole-home/evaluate.ts'
import { joinHomeRule, ruleSet } from '../../../trade/whole-home/rule-set.ts'
import { articles, figure, homeOf, item, spoken, under } from '../overcurrent/verdicts.ts'

const FIELDS = EQUIPMENT_FIELDS['surge-protector']
const missing = (verdict: Verdict) => (verdict.outcome === 'undetermined' ? verdict.missing : null)
const answer = (verdict: Verdict) => (verdict.outcome === 'finding' ? verdict.severity : verdict.outcome)

describe('surge protection of the service, NFPA 70 230.67', () => {
  const judge = (inputs: Partial<SurgeRequiredInputs>, context = under('2023', '1999')) =>
    spoken(judgeSurgeRequired({ devices: [], looked: true, ...inputs }, context))
  test.each([
    // SP2: service replaced under the edition: a defect; a home not altered: a recommendation.
    ['2017', '2017', 'not-applicable'],
    ['2020', '2020', 'repair'],
    ['2023', '2023', 'repair'],
    ['2020', '1975', 'improve'],
    ['2017', '1975', 'not-applicable'],
  ] as const)('none, in force %s, service of %s: %s', (now, built, expected) => {
    const verdict = judge({}, under(now, built))
    expect(verdict.rule).toBe('surge.required')
    expect(answer(verdict)).toBe(expected)
    if (verdict.outcome === 'finding') {
      expect(articles(verdict)).toContain('230.67')
      expect(verdict.technician).toMatch(/^No surge protector at the service; /)
    }
  })
  test('which part was replaced last decides what is known', () => {
    expect(judge({ lastReplaced: 'service-equipment' })).toMatchObject({
      severity: 'improve',
      requiredWhenBuilt: 'unknown',
    })
    expect(judge({ lastReplaced: 'service-equipment' }, under('2023', '2020'))).toMatchObject({
      severity: 'repair',
    })
    expect(judge({ lastReplaced: 'meter-or-conductors' }, under('2023', '2020'))).toMatchObject({
      severity: 'improve',
      requiredWhenBuilt: 'unknown',
    })
    expect(judge({ lastReplaced: 'meter-or-conductors' })).toMatchObject({ requiredWhenBuilt: 'no' })
    expect(judge({ lastReplaced: 'none' }, under('2023', '2020'))).toMatchObject({ requiredWhenBuilt: 'yes' })
  })
  // SP2 by dates: NFPA 70-2020 230.67 is asked of the service equipment of its day, not of the year of the home.
  test.each([
    ['service', { lastReplaced: 'service-equipment' }, '2022-03-01', 'repair', 'yes'],
    ['service', {}, '2022-03-01', 'repair', 'yes'],
    ['service', { lastReplaced: 'service-equipment' }, '2019-03-01', 'improve', 'no'],
    ['panel', { role: 'service' }, '2022-03-01', 'repair', 'yes'],
    ['panel', { role: 'sub-panel' }, '2022-03-01', 'improve', 'no'],
    ['service', { lastReplaced: 'meter-or-conductors' }, '2022-03-01', 'improve', 'no'],
  ] as const)('home of 1990, %s %o put in %s: %s', (kind, details, on, severity, whenBuilt) => {
    const home = {
      ...homeOf(item('x', kind, details as never, { installedOn: day(on) }) as Equipment),
      property: { ...homeOf().property, yearBuilt: 1990 },
    }
    const adopted: Jurisdiction = {
      name: 'Port Ansel',
      isUs: true,
      amendments: [],
      adoptions: [
        { edition: '1987', from: day('1988-01-01') },
        { edition: '2017', from: day('2018-01-01') },
        { edition: '2020', from: day('2021-01-01') },
      ],
    }
    const rules = ruleSet({ homes: [joinHomeRule(surgeRequired)] })
    const verdicts = evaluateHome(home, adopted, day('2026-05-20'), rules)
    expect(verdicts.homes).toMatchObject([
      [{ severity, requiredWhenBuilt: whenBuilt, inputs: { devices: 0, looked: true } }],
    ])
  })
  test('of several services the one with the most replaced counts, in any order', () => {
    const services = (['none', 'service-equipment', 'meter-or-conductors'] as const).map((lastReplaced) =>
      item(lastReplaced, 'service', { lastReplaced }),
    )
    const of = (...given: Equipment[]) => surgeRequired.inputs(homeOf(...given)).lastReplaced
    expect(of(...services)).toBe('service-equipment')
    expect(of(...services.toReversed())).toBe('service-equipment')
    expect(of(services[0]!, services[2]!)).toBe('meter-or-conductors')
    expect(of(services[0]!)).toBe('none')
  })
  test('of several parts the newest counts; what is out of use does not', () => {
    const panel = (id: string, on: string, retiredOn: string | null = null) =>
      item(
        'panel' + id,
        'panel',
        { role: 'service' },
        {
          installedOn: day(on),
          retiredOn: retiredOn === null ? null : day(retiredOn),
        },
      )
    const of = (...equipment: Equipment[]) => surgeRequired.inputs(homeOf(...equipment)).equipmentInstalledOn
    expect(of(panel('1', '2022-03-01'), panel('2', '1999-01-01'))).toBe('2022-03-01')
    expect(of(panel('1', '2022-03-01', '2023-01-01'), panel('2', '1999-01-01'))).toBe('1999-01-01')
    expect(of(item('s', 'service', {}), item('p', 'panel', { role: 'service' }))).toBeNull()
  })
  test.each([
    [{ type: '1', at: 'meter-base' }, 'sound'],
    [{ type: '2', at: 'in-panel' }, 'sound'],
    [{ type: '2', at: 'beside-panel' }, 'sound'],
    [{ type: '3', at: 'in-panel' }, 'improve'],
    [{ type: '2', at: 'sub-panel' }, 'improve'],
    [{ type: '3', at: 'point-of-use' }, 'improve'],
    [{ type: 'unknown', at: 'in-panel' }, 'improve'],
    [{ at: 'in-panel' }, 'undetermined'],
    [{ type: '2' }, 'undetermined'],
    [{ at: 'point-of-use' }, 'improve'],
  ] as const)('with %o: %s', (device, expected) => {
    const verdict = judge({ devices: [device] })
    expect(answer(verdict)).toBe(expected)
    if (expected === 'improve') {
      expect(verdict.technician).toMatch(/^No type 1 or 2 surge protector at the service; /)
    }
    if (expected === 'sound') expect(verdict.technician).toBe('Type 1 or 2 surge protector at the service.')
    if (expected === 'undetermined')
      expect(missing(verdict)).toEqual(['Type and place of the surge protector'])
  })
  test('before anybody has looked nothing is claimed', () => {
    expect(missing(judge({ looked: false }))).toEqual(['Surge protector'])
    expect(judge({ looked: false, devices: [{ type: '3', at: 'point-of-use' }] })).toMatchObject({
      outcome: 'finding',
    })
    expect(missing(judge({}, under(null)))).toEqual(['Code edition in force'])
  })
  test('the order of devices does not matter', () => {
    const device = fc.record({
      type: fc.constantFrom('1', '2', '3', 'unknown', undefined),
      at: fc.constantFrom('in-panel', 'sub-panel', 'point-of-use', undefined),
    })
    fc.assert(
      fc.property(fc.array(device, { maxLength: 4 }), (devices) => {
        expect(judge({ devices: devices.toReversed() })).toEqual(judge({ devices }))
      }),
    )
  })
  test('inputs', () => {
    const device = item('d', 'surge-protector', { type: '2', at: 'in-panel', indicator: 'good' })
    const service = item('s', 'service', { lastReplaced: 'service-equipment' })
    expect(surgeRequired.inputs(homeOf(device, item('t', 'service', {}), service))).toEqual({
      devices: [{ type: '2', at: 'in-panel' }],
      lastReplaced: 'service-equipment',
      equipmentInstalledOn: null,
      looked: true,
    })
    expect(surgeRequired.inputs(homeOf(item('p', 'panel', {}))).looked).toBe(true)
    expect(surgeRequired.inputs(homeOf()).looked).toBe(false)
    expect(surgeRequired.judge({ devices: [], looked: false }, under(null))).toMatchObject([
      { rule: surgeRequired.id },
    ])
    expect(surgeRequired.watches).toEqual(['service', 'panel', 'surge-protector'])
  })
})

describe('type against place, UL 1449', () => {
  const judge = (inputs: Parameters<typeof judgeSurgeType>[0]) => spoken(judgeSurgeType(inputs))
  test.each([
    [{ type: '1', at: 'meter-base', lineSide: true }, 'sound', 'Type 1 surge protector, in the meter base.'],
    [
      { type: '2', at: 'in-panel', lineSide: false },
      'sound',
      'Type 2 surge protector, in the service panel.',
    ],
    [{ type: '2', at: 'meter-base', lineSide: false }, 'sound', 'Type 2 surge protector, in the meter base.'],
    [{ type: '3', at: 'point-of-use' }, 'sound', 'Type 3 surge protector, at one outlet.'],
    [
      { type: '2', at: 'meter-base', lineSide: true },
      'repair',
      'Type 2 surge protector on the line side of the service disconnect: only type 1 may be there.',
    ],
    [
      { type: '3', lineSide: true },
      'repair',
      'Type 3 surge protector on the line side of the service disconnect: only type 1 may be there.',
    ],
    [
      { type: '3', at: 'in-panel' },
      'repair',
      'Type 3 surge protector at a panel or meter: it is made for one outlet, 30 ft or more from the panel.',
    ],
    [
      { type: 'unknown', at: 'in-panel' },
      'investigate',
      'Surge protector without a type marked: its data must be looked up before it can be judged.',
    ],
  ] as const)('%o: %s', (inputs, expected, technician) => {
    const verdict = judge(inputs)
    expect(answer(verdict)).toBe(expected)
    expect(verdict).toMatchObject({ rule: 'surge.type', technician, references: [{ code: 'UL 1449' }] })
    expect(verdict.references[0]!.row).toMatch('point of use')
  })
  test('unknowns', () => {
    expect(missing(judge({}))).toEqual([FIELDS.type.label])
    expect(missing(judge({ type: '1' }))).toEqual([FIELDS.at.label])
    // UL 1449: type 2 stands on the load side alone; only at a sub-panel or an outlet can it be nowhere else.
    for (const at of ['meter-base', 'in-panel', 'beside-panel'] as const) {
      expect(missing(judge({ type: '2', at }))).toEqual([FIELDS.lineSide.label])
      expect(judge({ type: '1', at }).outcome).toBe('sound')
    }
    for (const at of ['sub-panel', 'point-of-use'] as const) {
      expect(judge({ type: '2', at }).outcome).toBe('sound')
    }
    const details = { type: '2', at: 'in-panel', lineSide: true } as const
    expect(surgeType.inputs(item('d', 'surge-protector', details), homeOf())).toEqual(details)
    expect(surgeType.judge({}, under(null)).rule).toBe(surgeType.id)
  })
})

describe('nominal discharge current, NFPA 70-2023 230.67(E)', () => {
  const judge = (nominalKiloamps: number | undefined, context = under('2023', '2020'), at?: 'point-of-use') =>
    spoken(judgeNominalCurrent({ nominalKiloamps, at }, context))
  test.each([
    // SP4: 8 kA under 2023: below; under 2020: no rule.
    [8, '2023', '2023', 'repair'],
    [8, '2023', '2020', 'improve'],
    [8, '2020', '2020', 'not-applicable'],
    [9.9, '2023', '2020', 'improve'],
    [10, '2023', '2023', 'sound'],
    [20, '2020', '2020', 'sound'],
  ] as const)('%f kA in force %s, built %s: %s', (kiloamps, now, built, expected) => {
    const verdict = judge(kiloamps, under(now, built))
    expect(answer(verdict)).toBe(expected)
    expect(verdict.rule).toBe('surge.nominal-current')
    expect(figure(verdict, FIELDS.nominalKiloamps.label)).toBe(kiloamps)
    expect(figure(verdict, 'Least nominal discharge current (kA)')).toBe(10)
    if (expected !== 'not-applicable') {
      expect(verdict.technician).toMatch(`Nominal discharge current ${kiloamps} kA, 10 kA wanted`)
      expect(articles(verdict)).toContain('230.67(E)')
    }
  })
  test('unknown current, and devices at one outlet', () => {
    expect(missing(judge(undefined))).toEqual([FIELDS.nominalKiloamps.label])
    expect(judge(undefined, under('2020', '2020'))).toMatchObject({ outcome: 'not-applicable' })
    expect(judge(3, under('2023', '2023'), 'point-of-use')).toMatchObject({
      outcome: 'not-applicable',
      why: 'it stands at one outlet, not at the service',
    })
    expect(missing(judge(8, under(null)))).toEqual(['Code edition in force'])
    const details = { nominalKiloamps: 20, at: 'in-panel' } as const
    expect(nominalCurrent.inputs(item('d', 'surge-protector', { ...details, type: '1' }), homeOf())).toEqual(
      details,
    )
    expect(nominalCurrent.judge({}, under(null)).rule).toBe(nominalCurrent.id)
  })
})

test('leads, common practice', () => {
  expect(spoken(judgeSurgeLeads({ leadsShort: false }))).toMatchObject({
    rule: 'surge.leads',
    severity: 'improve',
    technician: 'Leads of the surge protector long or looped: shorten and straighten them.',
    references: [{ code: 'common practice', row: 'leads short and straight' }],
  })
  expect(spoken(judgeSurgeLeads({ leadsShort: true }))).toMatchObject({
    outcome: 'sound',
    technician: 'Leads short and straight.',
  })
  expect(missing(spoken(judgeSurgeLeads({})))).toEqual([FIELDS.leadsShort.label])
  expect(surgeLeads.inputs(item('d', 'surge-protector', { leadsShort: true }), homeOf())).toEqual({
    leadsShort: true,
  })
  expect(surgeLeads.judge({}, under(null)).rule).toBe(surgeLeads.id)
})

describe('indicator and dates, common practice', () => {
  const judge = (inputs: Partial<IndicatorInputs>) =>
    spoken(judgeIndicator({ manufacturedOn: null, installedOn: null, ...inputs }, under('2023')))
  test.each([
    // SP1: indicator off.
    ['dark', 'repair', 'Indicator dark: protection lost, replace.'],
    ['fault', 'repair', 'Indicator shows a fault: protection lost, replace.'],
    ['degraded', 'improve', 'Indicator shows degraded: replace while it still protects in part.'],
    ['power-only', 'investigate', 'Only a power lamp: it does not say "protected"; look up the device.'],
  ] as const)('%s: %s', (indicator, severity, technician) => {
    const verdict = judge({ indicator })
    expect(verdict).toMatchObject({ rule: 'surge.indicator', outcome: 'finding', severity, technician })
    expect(articles(verdict)).toEqual(['242.9', undefined])
    expect(verdict.references[1]!.row).toMatch('every 12 months')
  })
  test('lit: watched until the next check, a year on', () => {
    expect(judge({ indicator: 'good', manufacturedOn: day('2020-02-29') })).toMatchObject({
      severity: 'watch',
      technician: 'Indicator lit; next check March 2, 2027, plan a new one by February 28, 2030.',
      homeowner: 'The surge protector is working. It should be looked at again by March 2, 2027.',
    })
    expect(judge({ indicator: 'good' }).technician).toBe(
      'Indicator lit; next check March 2, 2027, no date to plan its replacement by.',
    )
  })
  test('its planned years over', () => {
    const old = { indicator: 'good', installedOn: day('2016-03-02') } as const
    expect(judge(old)).toMatchObject({
      severity: 'improve',
      technician: 'Indicator lit, planned life over since March 2, 2026; next check March 2, 2027.',
    })
    expect(judge({ ...old, installedOn: day('2016-03-03') })).toMatchObject({ severity: 'watch' })
    expect(judge({ ...old, lifeYears: 15 })).toMatchObject({ severity: 'watch' })
  })
  test('unknown, and inputs', () => {
    expect(missing(judge({}))).toEqual([FIELDS.indicator.label])
    const dates = { manufacturedOn: day('2020-01-01'), installedOn: day('2020-06-01') }
    const device = item('d', 'surge-protector', { indicator: 'good', lifeYears: 8, type: '1' }, dates)
    expect(surgeIndicator.inputs(device, homeOf())).toEqual({ indicator: 'good', lifeYears: 8, ...dates })
    expect(surgeIndicator.judge({ manufacturedOn: null, installedOn: null }, under(null)).rule).toBe(
      surgeIndicator.id,
    )
  })
  test.each([
    // SP3: checked 2025-08-31, every 12 months; a storm on 2026-01-05 brings it forward by a week's grace.
    ['2025-08-31', null, '2026-08-31'],
    ['2025-08-31', '2026-01-05', '2026-01-12'],
    ['2025-08-31', '2025-08-31', '2026-08-31'],
    ['2025-08-31', '2025-01-05', '2026-08-31'],
    ['2025-08-31', '2026-08-30', '2026-08-31'],
    ['2024-02-29', null, '2025-02-28'],
  ])('checked %s, event %s: due %s', (checked, event, due) => {
    expect(surgeCheckDue(day(checked), event ? day(event) : null)).toBe(due)
    if (!event) expect(surgeCheckDue(day(checked))).toBe(due)
  })
  test.each([
    ['2015-05-01', '2016-05-01', undefined, '2025-05-01'],
    [null, '2016-05-01', undefined, '2026-05-01'],
    ['2015-05-01', null, 5, '2020-05-01'],
    [null, null, 5, null],
  ])('made %s, fitted %s, life %s: replace by %s', (made, fitted, lifeYears, due) => {
    const device = {
      manufacturedOn: made ? day(made) : null,
      installedOn: fitted ? day(fitted) : null,
      lifeYears,
    }
    expect(surgeReplaceBy(device)).toBe(due)
  })
})
