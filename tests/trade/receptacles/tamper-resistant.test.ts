import { describe, expect, test } from 'vitest'
import { day } from '../../../trade/dates.ts'
import { EQUIPMENT_FIELDS } from '../../../trade/equipment.ts'
import type { SpaceKind } from '../../../trade/property.ts'
import {
  judgeTamperResistant,
  tamperResistant,
  TAMPER_RESISTANT_ROOMS,
  type TamperInputs,
} from '../../../trade/receptacles/tamper-resistant.ts'
import type { Verdict } from '../../../trade/verdict.ts'
import { articles, homeOf, item, spoken, under } from '../overcurrent/verdicts.ts'

const FIELDS = EQUIPMENT_FIELDS.receptacle
const missing = (verdict: Verdict) => (verdict.outcome === 'undetermined' ? verdict.missing : null)
const inRoom = (kind: SpaceKind, details: object) => {
  const one = item('r', 'receptacle', details, { spaceId: 's' })
  return [one, { ...homeOf(one), spaces: [{ id: 's', kind, name: kind, level: 0 }] }] as const
}

describe('tamper-resistant, NFPA 70 406.11 and 406.12', () => {
  const plain: TamperInputs = { spaceKind: 'bedroom', tamperResistant: false, slots: 'three' }
  const judge = (inputs: Partial<TamperInputs>, context = under('2023', '1999')) =>
    spoken(judgeTamperResistant({ ...plain, ...inputs }, context))
  test.each([
    ['2005', 'improve', 'no'],
    ['2008', 'repair', 'yes'],
    ['2011', 'repair', 'yes'],
  ] as const)('built under %s: %s', (built, severity, requiredWhenBuilt) => {
    expect(judge({}, under('2023', built))).toMatchObject({
      rule: 'receptacles.tamper-resistant',
      severity,
      requiredWhenBuilt,
      technician: expect.stringMatching(/^Receptacle not tamper-resistant; /),
    })
  })
  test('articles', () => {
    expect(articles(judge({}, under('2023', '2008')))).toEqual(['406.11', '406.12'])
    expect(judge({}, under('2005', '1999'))).toMatchObject({ outcome: 'not-applicable' })
  })
  test.each([
    [{ heightInches: 72 }, '72 in above the floor, out of reach above 66 in'],
    [{ heightInches: 66.5 }, '66.5 in above the floor, out of reach above 66 in'],
    [{ partOfAppliance: true }, 'part of a luminaire or appliance'],
    [{ dedicatedAppliance: true }, 'for one appliance that stays put'],
    [{ slots: 'two' }, 'a non-grounding receptacle'],
    [{ amps: 30 }, 'rated above 20 A'],
    [{ spaceKind: 'crawl-space' }, 'no such room is listed'],
  ] as const)('%o needs none: %s', (inputs, why) => {
    expect(judge(inputs)).toMatchObject({
      outcome: 'not-applicable',
      why,
      requiredToday: 'no',
      requiredWhenBuilt: 'no',
    })
  })
  test('at 66 in exactly it is within reach; 20 A counts', () => {
    expect(
      judge({ heightInches: 66, amps: 20, partOfAppliance: false, dedicatedAppliance: false }),
    ).toMatchObject({
      outcome: 'finding',
    })
  })
  test('NFPA 70-2017 406.12: 250 V receptacles since 2017', () => {
    expect(judge({ volts: 250 }, under('2014', '1999'))).toMatchObject({ outcome: 'not-applicable' })
    expect(judge({ volts: 250 }, under('2017', '1999'))).toMatchObject({ severity: 'improve' })
    expect(judge({ volts: 125 }, under('2014', '1999'))).toMatchObject({ severity: 'improve' })
    expect(judge({ volts: 250 }).references[0]).toMatchObject({ article: '406.12', row: '250 V' })
  })
  test('rooms of 210.52', () => {
    expect(TAMPER_RESISTANT_ROOMS).toHaveLength(15)
    for (const spaceKind of TAMPER_RESISTANT_ROOMS) expect(judge({ spaceKind }).outcome).toBe('finding')
    for (const spaceKind of ['closet', 'attic-unfinished', 'stairs'] as const) {
      expect(judge({ spaceKind }).outcome).toBe('not-applicable')
    }
  })
  test('NFPA 70-2011 210.52(G): outbuildings since 2011, garages since 2008', () => {
    const built = (spaceKind: SpaceKind, edition: '2008' | '2011') =>
      judge({ spaceKind }, under('2023', edition)).requiredWhenBuilt
    expect(built('garage', '2008')).toBe('yes')
    expect(built('accessory-building', '2008')).toBe('no')
    expect(built('accessory-building', '2011')).toBe('yes')
    expect(judge({ spaceKind: 'accessory-building', volts: 250 }, under('2023', '2014'))).toMatchObject({
      requiredWhenBuilt: 'no',
      requiredToday: 'yes',
    })
  })
  test('present or unknown', () => {
    expect(judge({ tamperResistant: true }, under(null))).toMatchObject({
      outcome: 'sound',
      technician: 'Tamper-resistant receptacle.',
    })
    expect(missing(judge({ tamperResistant: undefined }))).toEqual([FIELDS.tamperResistant.label])
    expect(missing(judge({ spaceKind: null }))).toEqual(['Room or place'])
    expect(judge({ tamperResistant: undefined }, under('2005', '1999'))).toMatchObject({
      outcome: 'not-applicable',
    })
    expect(missing(judge({}, under(null)))).toEqual(['Code edition in force'])
  })
  test('no longer asked for here, it may have been when built', () => {
    const dropped = under('2023', '2017', [
      {
        requirement: 'receptacles.tamper-resistant',
        effect: 'remove',
        from: day('2026-01-01'),
        source: 'Port Ansel 12-3',
      },
    ])
    expect(judge({}, dropped).requiredToday).toBe('no')
    expect(missing(judge({ tamperResistant: undefined }, dropped))).toEqual([FIELDS.tamperResistant.label])
  })
  test('inputs', () => {
    const { spaceKind: _, ...details } = {
      ...plain,
      volts: 125,
      amps: 15,
      heightInches: 12,
      partOfAppliance: false,
      dedicatedAppliance: true,
    }
    const [one, home] = inRoom('hall', details)
    expect(tamperResistant.inputs(one, home)).toEqual({ ...details, spaceKind: 'hall' })
    expect(tamperResistant.inputs(one, homeOf(one)).spaceKind).toBeNull()
    expect(tamperResistant.judge(plain, under(null)).rule).toBe(tamperResistant.id)
  })
})
