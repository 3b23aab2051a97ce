import { describe, expect, test } from 'vitest'
import { type LegRow, loadLegs } from '../../../trade/load/legs.ts'
import { generalLightingVA, lightingCircuits } from '../../../trade/load/lighting.ts'
import { optionalLoad } from '../../../trade/load/optional.ts'
import { standardLoad } from '../../../trade/load/standard.ts'
import type { Worksheet, WorksheetLine } from '../../../trade/load/worksheet.ts'
import { standardRatingFrom } from '../../../trade/overcurrent/standard-ratings.ts'
import { D1A, D2A } from './homes.ts'

const sheet = (result: { worksheet?: Worksheet }): Worksheet => {
  expect(result.worksheet).toBeDefined()
  return result.worksheet!
}
const brief = (lines: WorksheetLine[]) =>
  lines.map(({ label, basis, va, article, counted }) => [label, basis, va, article, counted])

describe('Annex D1(a), NFPA 70-2005', () => {
  const worksheet = sheet(standardLoad(D1A, '2005'))
  test('18600 VA, 78 A; neutral 14550 VA, 61 A (rounded half up)', () => {
    expect([worksheet.totalVA, worksheet.amps]).toEqual([18_600, 78])
    expect([worksheet.neutral.totalVA, worksheet.neutral.amps]).toEqual([14_550, 61])
    expect(worksheet).toMatchObject({
      method: 'standard',
      edition: '2005',
      volts: 240,
      article: '220.12',
      assumptions: [],
    })
  })
  test('every line is shown', () => {
    expect(brief(worksheet.lines)).toEqual([
      ['General lighting', '1,500 ft² × 3 VA', 4500, '220.12', false],
      ['Small-appliance circuits', '2 × 1,500 VA', 3000, '220.52', false],
      ['Laundry circuits', '1 × 1,500 VA', 1500, '220.52', false],
      ['First 3,000 VA', 'at 100 %', 3000, 'Table 220.42', true],
      ['Next 6,000 VA', 'at 35 %', 2100, 'Table 220.42', true],
      ['Range', 'nameplate', 12_000, '220.55', false],
      ['Demand', 'column C, 1: 8,000 VA', 8000, '220.55', true],
      ['Dryer', 'nameplate, 5,000 VA at least', 5500, '220.54', false],
      ['Demand', '100 % of 5,500 VA', 5500, '220.54', true],
    ])
    expect(brief(worksheet.neutral.lines)).toEqual([
      ['After demand', 'as above', 5100, '220.61', true],
      ['Demand', '70 % of 8,000 VA', 5600, '220.61', true],
      ['Demand', '70 % of 5,500 VA', 3850, '220.61', true],
    ])
    expect([...new Set(worksheet.lines.map((line) => line.section))]).toEqual([
      'Lighting and receptacles',
      'Cooking',
      'Clothes drying',
    ])
  })
  test('lighting 4500 VA is 37.5 A: three 15 A or two 20 A circuits', () => {
    expect(generalLightingVA(1500, '2005')).toBe(4500)
    expect(lightingCircuits(4500, 15)).toBe(3)
    expect(lightingCircuits(4500, 20)).toBe(2)
  })
  test('with 2 VA/ft² (2026): 18075 VA, 75 A', () => {
    const in2026 = sheet(standardLoad(D1A, '2026'))
    expect([in2026.totalVA, in2026.amps]).toEqual([18_075, 75])
    expect(in2026.lines.map((line) => line.article)).toEqual([
      '120.41',
      '120.52',
      '120.52',
      'Table 120.45',
      'Table 120.45',
      '120.55',
      '120.55',
      '120.54',
      '120.54',
    ])
    expect(in2026.lines[0]!.basis).toBe('1,500 ft² × 2 VA')
    expect(in2026.neutral.lines[0]!.article).toBe('120.61')
  })
})

describe('Annex D1(b), NFPA 70-2005', () => {
  const fromD1a: LegRow = { label: 'From D1(a)', a: 78, neutral: 61, b: 78 }
  const added = () =>
    loadLegs(fromD1a, [
      { label: '230 V air conditioner', across: { amps: 6, motor: true } },
      { label: '115 V air conditioner and dishwasher', a: { amps: 12, motor: true }, b: { amps: 10 } },
      { label: '115 V disposer', b: { amps: 8, motor: true } },
    ])
  test('99 A and 104 A on the legs, so a 110 A service', () => {
    const { total } = added()
    expect([total.a, total.b]).toEqual([99, 104])
    expect(standardRatingFrom(Math.max(total.a, total.b), '2005')).toBe(110)
  })
  test('the neutral is 84 A as the 2002 printing quotes, 83 A in the 2005 copy: disputed, within 1 A', () => {
    const { total } = added()
    expect([83, 84]).toContain(total.neutral)
    expect(total.neutral).toBe(84)
  })
  test('row by row', () => {
    expect(added().rows).toEqual([
      fromD1a,
      { label: '230 V air conditioner', a: 6, neutral: 0, b: 6 },
      { label: '115 V air conditioner and dishwasher', a: 12, neutral: 12, b: 10 },
      { label: '115 V disposer', a: 0, neutral: 8, b: 8 },
      { label: 'Quarter of the largest motor', a: 3, neutral: 3, b: 2 },
    ])
  })
  test('without motors there is no such row', () => {
    expect(loadLegs(fromD1a, [{ label: 'Heater', across: { amps: 10 } }]).rows).toHaveLength(2)
  })
})

describe('Annex D2(a), NFPA 70-2005', () => {
  const worksheet = sheet(optionalLoad(D2A, '2005'))
  test('21480 VA, 90 A (amperes derived); neutral 15400 VA, 64 A (amperes derived)', () => {
    expect([worksheet.totalVA, worksheet.amps]).toEqual([21_480, 90])
    expect([worksheet.neutral.totalVA, worksheet.neutral.amps]).toEqual([15_400, 64])
    expect(worksheet).toMatchObject({ method: 'optional', article: '220.82', assumptions: [] })
  })
  test('every line is shown; the air conditioner stands there and does not count', () => {
    expect(brief(worksheet.lines)).toEqual([
      ['General lighting', '1,500 ft² × 3 VA', 4500, '220.12', false],
      ['Small-appliance circuits', '2 × 1,500 VA', 3000, '220.52', false],
      ['Laundry circuits', '1 × 1,500 VA', 1500, '220.52', false],
      ['Range', 'nameplate', 12_000, '220.82', false],
      ['Dryer', 'nameplate', 5000, '220.82', false],
      ['Water heater', 'nameplate', 2500, '220.82', false],
      ['Dishwasher', 'nameplate', 1200, '220.82', false],
      ['First 10,000 VA', 'at 100 %', 10_000, '220.82(B)', true],
      ['Remaining 19,700 VA', 'at 40 %', 7880, '220.82(B)', true],
      ['Air conditioning', '100 % of 1,380 VA', 1380, '220.82(C)', false],
      ['Electric heat', '5 controls: 40 % of 9,000 VA', 3600, '220.82(C)', true],
    ])
    expect(brief(worksheet.neutral.lines).at(-1)).toEqual([
      'Dishwasher',
      '120 V, nameplate',
      1200,
      '220.61',
      true,
    ])
  })
  test('with 2 VA/ft² and 8 kVA (2026): 19680 VA, 82 A', () => {
    const in2026 = sheet(optionalLoad(D2A, '2026'))
    expect([in2026.totalVA, in2026.amps]).toEqual([19_680, 82])
    expect(in2026.article).toBe('120.82')
  })
})
