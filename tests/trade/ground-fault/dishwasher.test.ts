import { describe, expect, test } from 'vitest'
import { EQUIPMENT_FIELDS } from '../../../trade/equipment.ts'
import { dishwasher, type DishwasherInputs, judgeDishwasher } from '../../../trade/ground-fault/dishwasher.ts'
import type { Verdict } from '../../../trade/verdict.ts'
import { articles, homeOf, item, spoken, under } from '../overcurrent/verdicts.ts'

const missing = (verdict: Verdict) => (verdict.outcome === 'undetermined' ? verdict.missing : null)
const judge = (inputs: Partial<DishwasherInputs>, context = under('2023', '2011')) =>
  spoken(judgeDishwasher({ serves: 'dishwasher', device: 'breaker', outlets: ['none'], ...inputs }, context))

describe('dishwasher outlet, NFPA 70 210.8(D), since 2014', () => {
  test.each([
    ['2011', 'improve', 'no'],
    ['2014', 'repair', 'yes'],
  ] as const)('unprotected, built under %s: %s', (built, severity, requiredWhenBuilt) => {
    const verdict = judge({}, under('2023', built))
    expect(verdict).toMatchObject({
      rule: 'ground-fault.dishwasher',
      severity,
      requiredWhenBuilt,
      technician: expect.stringMatching(/^Dishwasher outlet without ground-fault protection; /),
      inputs: { serves: 'dishwasher', device: 'breaker', outlets: 'none' },
    })
    expect(articles(verdict)).toContain('210.8(D)')
  })
  test.each([
    { device: 'gfci' },
    { device: 'dual' },
    { outlets: ['itself'] },
    { outlets: ['upstream', 'breaker'] },
    { device: 'gfci', outlets: [] },
  ] as const)('%o protects', (inputs) => {
    expect(judge(inputs)).toMatchObject({
      outcome: 'sound',
      technician: 'Dishwasher outlet ground-fault protected.',
    })
  })
  test('one bare outlet among others is enough; afci is no ground-fault protection', () => {
    expect(judge({ outlets: ['itself', 'none'] })).toMatchObject({ outcome: 'finding' })
    expect(judge({ device: 'afci' })).toMatchObject({ outcome: 'finding' })
  })
  test('unknowns and other circuits', () => {
    expect(missing(judge({ serves: undefined }))).toEqual([EQUIPMENT_FIELDS.circuit.serves.label])
    expect(judge({ serves: 'range' })).toMatchObject({
      outcome: 'not-applicable',
      why: 'the circuit serves no dishwasher',
    })
    expect(missing(judge({ device: undefined }))).toEqual([EQUIPMENT_FIELDS.circuit.device.label])
    const receptacle = ['What protects the receptacle of the dishwasher']
    expect(missing(judge({ outlets: [] }))).toEqual(receptacle)
    expect(missing(judge({ outlets: [undefined, 'itself'] }))).toEqual(receptacle)
    expect(judge({ device: undefined }, under('2011', '2011'))).toMatchObject({
      outcome: 'not-applicable',
      why: 'no edition in force asks for it',
    })
    expect(missing(judge({}, under(null)))).toEqual(['Code edition in force'])
  })
  test('inputs: the receptacles on this circuit', () => {
    const circuit = item('c', 'circuit', { serves: 'dishwasher', device: 'afci' })
    const on = item('r', 'receptacle', { groundFault: 'none' }, { parentId: 'c' })
    const lamp = item('l', 'luminaire', {}, { parentId: 'c' })
    const other = item('q', 'receptacle', { groundFault: 'itself' }, { parentId: 'd' })
    expect(dishwasher.inputs(circuit, homeOf(circuit, on, lamp, other))).toEqual({
      serves: 'dishwasher',
      device: 'afci',
      outlets: ['none'],
    })
    expect(dishwasher.judge({ outlets: [] }, under(null)).rule).toBe(dishwasher.id)
    expect(dishwasher.watches).toEqual(['receptacle'])
  })
})
