import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { EDITIONS, type Edition } from '../../../trade/editions.ts'
import { cookingDemand } from '../../../trade/load/cooking.ts'
import { EXISTING_FIGURES, existingLoad, measuredLoad } from '../../../trade/load/existing.ts'
import { loadArticle } from '../../../trade/load/factors.ts'
import { AREA_MISSING, type LoadInputs, missingLoads, NO_LOAD } from '../../../trade/load/inputs.ts'
import { knownPart } from '../../../trade/load/known-part.ts'
import { lightingDemand } from '../../../trade/load/lighting.ts'
import { optionalLoad } from '../../../trade/load/optional.ts'
import {
  BEFORE_LOAD_EDITIONS,
  OUTSIDE_TABLES,
  standardLoad,
  VEHICLE_FIGURE,
} from '../../../trade/load/standard.ts'
import type { LoadResult, WorksheetLine } from '../../../trade/load/worksheet.ts'
import { D1A, D2A } from './homes.ts'

const lineOf = (result: LoadResult, label: string): WorksheetLine | undefined =>
  result.worksheet?.lines.find((line) => line.label === label)
const totals = (result: LoadResult) =>
  result.worksheet && [result.worksheet.totalVA, result.worksheet.neutral.totalVA]
const base: LoadInputs = { ...NO_LOAD, areaSqFt: 1500 }
/** Lighting alone: 9000 VA connected, 5100 VA after demand. */
const LIGHTING_ONLY = 5100

describe('cooking, NFPA 70 Table 220.55', () => {
  test.each<[string, number[], number, string]>([
    ['D1(a): one of 12 kW', [12_000], 8000, 'column C, 1: 8,000 VA'],
    ['two to four of 12 kW, from memory', [12_000, 12_000], 11_000, 'column C, 2: 11,000 VA'],
    ['ten of 12 kW, a journal’s quiz', Array(10).fill(12_000), 25_000, 'column C, 10: 25,000 VA'],
    ['note 1: 14 kW is 2 kW over, +10 %', [14_000], 8800, 'column C, 1: 8,000 VA + 10 %'],
    ['note 1: 12.4 kW is not a major part over', [12_400], 8000, 'column C, 1: 8,000 VA'],
    ['note 1: 12.5 kW is', [12_500], 8400, 'column C, 1: 8,000 VA + 5 %'],
    ['note 1: 27 kW', [27_000], 14_000, 'column C, 1: 8,000 VA + 75 %'],
    ['note 2: 10 kW counts as 12, average 14', [10_000, 16_000], 12_100, 'column C, 2: 11,000 VA + 10 %'],
    ['column A, one of 3 kW (published 80 %)', [3000], 2400, 'column A, 1: 80 % of 3,000 VA'],
    ['column B, two of 6 kW (published 65 %)', [6000, 6000], 7800, 'column B, 2: 65 % of 12,000 VA'],
    ['column B, three (published 55 %)', [5000, 5000, 5000], 8250, 'column B, 3: 55 % of 15,000 VA'],
    [
      'column A below 3½ kW, B from there',
      [3499, 3500],
      5599.2,
      'column A, 1: 80 % of 3,499 VA; column B, 1: 80 % of 3,500 VA',
    ],
    ['column B to 8¾ kW, 80 % from memory', [8750], 7000, 'column B, 1: 80 % of 8,750 VA'],
    ['above 8¾ kW only column C', [8751], 8000, 'column C, 1: 8,000 VA'],
    ['1¾ kW and less: nameplate', [1750], 1750, 'nameplate'],
    ['a small one beside a range', [1500, 12_000], 9500, 'column C, 1: 8,000 VA'],
    ['one above 8¾ kW keeps the other from column A', [8751, 3000], 11_000, 'column C, 2: 11,000 VA'],
    ['column C where it is the lower', [8750, 8750], 11_000, 'column C, 2: 11,000 VA'],
  ])('%s', (_name, nameplates, va, basis) => {
    expect(cookingDemand(nameplates)?.va).toBeCloseTo(va, 6)
    expect(cookingDemand(nameplates)?.basis).toBe(basis)
  })
  test.each([
    [1, 8000],
    [2, 11_000],
    [3, 14_000],
    [4, 17_000],
    [5, 20_000],
    [6, 21_000],
    [7, 22_000],
    [8, 23_000],
    [9, 24_000],
    [10, 25_000],
  ])('column C, %i appliances: %i VA (2 to 9 from memory)', (count, va) => {
    expect(cookingDemand(Array(count).fill(9000))?.va).toBe(va)
  })
  test.each([
    [1, 0.8, 0.8],
    [2, 0.75, 0.65],
    [3, 0.7, 0.55],
    [4, 0.66, 0.5],
    [5, 0.62, 0.45],
  ])('columns A and B, %i appliances: %f and %f (A from 2 on and B 1, 4, 5 from memory)', (count, a, b) => {
    expect(cookingDemand(Array(count).fill(2000))?.va).toBeCloseTo(2000 * count * a, 6)
    expect(cookingDemand(Array(count).fill(3500))?.va).toBeCloseTo(3500 * count * b, 6)
  })
  test('beyond the columns kept: the larger table or nothing', () => {
    expect(cookingDemand(Array(6).fill(5000))?.basis).toBe('column C, 6: 21,000 VA')
    expect(cookingDemand(Array(11).fill(12_000))).toBeNull()
    expect(cookingDemand([27_001])).toBeNull()
    expect(cookingDemand([27_001, 12_000])).toBeNull()
    expect(cookingDemand(Array(11).fill(5000))).toBeNull()
    expect(cookingDemand(Array(11).fill(2000))).toBeNull()
  })
  test('the order of appliances does not matter', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 500, max: 27_000 }), { maxLength: 8 }), (nameplates) => {
        const forward = cookingDemand(nameplates)
        const backward = cookingDemand(nameplates.toReversed())
        expect(backward?.va ?? null).toBeCloseTo(forward?.va ?? 0, 6)
      }),
    )
  })
})

describe('standard method', () => {
  test('lighting demand: 3000 VA in full, to 120000 VA 35 %, the rest 25 % (last step from memory)', () => {
    const parts = (va: number) => lightingDemand(va, '2017').map((line) => [line.label, line.basis, line.va])
    expect(parts(3000)).toEqual([['First 3,000 VA', 'at 100 %', 3000]])
    expect(parts(130_000)).toEqual([
      ['First 3,000 VA', 'at 100 %', 3000],
      ['Next 117,000 VA', 'at 35 %', 40_950],
      ['Next 10,000 VA', 'at 25 %', 2500],
    ])
    expect(parts(0)).toEqual([])
  })
  test('at least two small-appliance circuits and one for laundry count', () => {
    expect(totals(standardLoad(base, '2017'))).toEqual([LIGHTING_ONLY, LIGHTING_ONLY])
    const more = standardLoad({ ...base, smallApplianceCircuits: 4, laundryCircuits: 2 }, '2017')
    expect(totals(more)).toEqual([LIGHTING_ONLY + 0.35 * 4500, LIGHTING_ONLY + 0.35 * 4500])
  })
  test('dryers: 5000 VA each at least, shares by number (1 to 8 from memory, 9 to 11 published)', () => {
    const shares = [1, 1, 1, 1, 0.85, 0.75, 0.65, 0.6, 0.55, 0.5, 0.47]
    shares.forEach((share, index) => {
      const count = index + 1
      const dryers = Array.from({ length: count }, (_, each) => ({ name: `Dryer ${each}`, va: 4000 }))
      const result = standardLoad({ ...base, dryers }, '2017')
      expect(result.worksheet?.totalVA).toBeCloseTo(LIGHTING_ONLY + 5000 * count * share, 6)
      expect(result.worksheet?.neutral.totalVA).toBeCloseTo(LIGHTING_ONLY + 3500 * count * share, 6)
    })
    const twelve = Array.from({ length: 12 }, () => ({ name: 'Dryer', va: 5000 }))
    expect(standardLoad({ ...base, dryers: twelve }, '2017').missing).toEqual([OUTSIDE_TABLES])
  })
  describe('fixed appliances, 220.53', () => {
    const four = ['Water heater', 'Dishwasher', 'Disposer', 'Compactor'].map((name) => ({
      name,
      va: 1000,
      volts: 120 as const,
    }))
    test('four and more at 75 %, on the neutral too', () => {
      const result = standardLoad({ ...base, appliances: four }, '2017')
      expect(totals(result)).toEqual([LIGHTING_ONLY + 3000, LIGHTING_ONLY + 3000])
      expect(lineOf(result, 'Demand')).toMatchObject({
        basis: '4 appliances: 75 % of 4,000 VA',
        va: 3000,
        article: '220.53',
        section: 'Fixed appliances',
      })
      expect(result.worksheet?.neutral.lines.at(-1)).toMatchObject({
        basis: '120 V, 75 % of the nameplate',
        va: 750,
      })
    })
    test('three in full', () => {
      const result = standardLoad({ ...base, appliances: four.slice(1) }, '2017')
      expect(totals(result)).toEqual([LIGHTING_ONLY + 3000, LIGHTING_ONLY + 3000])
      expect(lineOf(result, 'Demand')?.basis).toBe('fewer than 4: nameplates')
    })
    test('since 2023 those under 500 VA neither count nor are reduced', () => {
      const small = [...four.slice(1), { name: 'Fan', va: 499 }]
      expect(standardLoad({ ...base, appliances: small }, '2020').worksheet?.totalVA).toBeCloseTo(
        LIGHTING_ONLY + 3499 * 0.75,
        6,
      )
      expect(standardLoad({ ...base, appliances: small }, '2023').worksheet?.totalVA).toBe(
        LIGHTING_ONLY + 3499,
      )
      const enough = [...four, { name: 'Fan', va: 499, volts: 120 as const }]
      expect(totals(standardLoad({ ...base, appliances: enough }, '2023'))).toEqual([
        LIGHTING_ONLY + 3499,
        LIGHTING_ONLY + 3499,
      ])
      const exactly = [...four.slice(1), { name: 'Fan', va: 500 }]
      expect(standardLoad({ ...base, appliances: exactly }, '2023').worksheet?.totalVA).toBe(
        LIGHTING_ONLY + 3500 * 0.75,
      )
    })
  })
  describe('vehicle charging', () => {
    const vehicles = [{ name: 'Charger', va: 5000 }]
    test('NFPA 70-2023 220.57: 7200 VA or the nameplate, whichever is larger', () => {
      const small = standardLoad({ ...base, vehicles }, '2023')
      expect(lineOf(small, 'Charger')).toMatchObject({
        va: 7200,
        basis: 'nameplate, 7,200 VA at least',
        article: '220.57',
        counted: true,
      })
      expect(totals(small)).toEqual([LIGHTING_ONLY + 7200, LIGHTING_ONLY])
      expect(
        lineOf(standardLoad({ ...base, vehicles: [{ name: 'Charger', va: 14_400 }] }, '2023'), 'Charger')?.va,
      ).toBe(14_400)
    })
    test('before, the nameplate; in 2026 not known', () => {
      expect(lineOf(standardLoad({ ...base, vehicles }, '2020'), 'Charger')).toMatchObject({
        va: 5000,
        basis: 'nameplate',
      })
      expect(standardLoad({ ...base, vehicles }, '2026').missing).toEqual([VEHICLE_FIGURE])
      expect(optionalLoad({ ...base, vehicles }, '2026').missing).toEqual([VEHICLE_FIGURE])
      expect(standardLoad(base, '2026').missing).toBeUndefined()
    })
  })
  test('other loads in full; the largest motor counts a quarter more, 430.24', () => {
    const result = standardLoad(
      {
        ...base,
        others: [
          { name: 'Well pump', va: 2000, motor: true },
          { name: 'Sump pump', va: 800, motor: true, volts: 120 },
          { name: 'Hot tub', va: 6000 },
        ],
        appliances: [{ name: 'Disposer', va: 900, motor: true, volts: 120 }],
      },
      '2017',
    )
    expect(lineOf(result, 'Hot tub')).toMatchObject({
      section: 'Other loads',
      va: 6000,
      counted: true,
      article: '220.14',
    })
    expect(lineOf(result, 'Largest motor')).toMatchObject({
      section: 'Motors',
      basis: '25 % of 2,000 VA',
      va: 500,
      article: '430.24',
      counted: true,
    })
    expect(totals(result)).toEqual([LIGHTING_ONLY + 8800 + 900 + 500, LIGHTING_ONLY + 800 + 900 + 225])
    expect(result.worksheet?.neutral.lines.at(-1)).toMatchObject({ label: 'Largest 120 V motor', va: 225 })
  })
  describe('heating and cooling, 220.60: the smaller is left out', () => {
    const climate = (more: Partial<LoadInputs>) => standardLoad({ ...base, ...more }, '2017')
    test('heat against air conditioning, whose motor counts only when it does', () => {
      const heat = climate({
        electricHeat: [{ name: 'Heat', va: 9000 }],
        airConditioners: [{ name: 'AC', va: 1380 }],
      })
      expect(lineOf(heat, 'Larger of heating and cooling')).toMatchObject({
        section: 'Heating and cooling',
        basis: 'heating 9,000 VA, cooling 1,380 VA',
        va: 9000,
        article: '220.60',
        counted: true,
      })
      expect(heat.worksheet?.totalVA).toBe(LIGHTING_ONLY + 9000)
      const cool = climate({
        electricHeat: [{ name: 'Heat', va: 1000 }],
        airConditioners: [{ name: 'AC', va: 4000 }],
      })
      expect(cool.worksheet?.totalVA).toBe(LIGHTING_ONLY + 4000 + 1000)
      expect(lineOf(climate({}), 'Larger of heating and cooling')).toBeUndefined()
    })
    test('a heat pump heats and cools; its strips only heat', () => {
      const pump = climate({
        heatPumps: [{ name: 'Heat pump', va: 5000, supplementVA: 10_000 }],
        storageHeat: [{ name: 'Storage', va: 2000 }],
      })
      expect(lineOf(pump, 'Larger of heating and cooling')?.basis).toBe('heating 17,000 VA, cooling 5,000 VA')
      expect(pump.worksheet?.totalVA).toBe(LIGHTING_ONLY + 17_000 + 1250)
    })
    test('a 120 V air conditioner that counts loads the neutral', () => {
      const window = climate({ airConditioners: [{ name: 'Window unit', va: 1400, volts: 120 }] })
      expect(totals(window)).toEqual([LIGHTING_ONLY + 1400 + 350, LIGHTING_ONLY + 1400 + 350])
    })
  })
})

describe('optional method, 220.82', () => {
  const choices = (more: Partial<LoadInputs>) =>
    optionalLoad({ ...base, ...more }, '2017').worksheet?.lines.filter(
      (line) => line.section === 'Heating and cooling',
    )
  test('up to 10 kVA nothing is reduced', () => {
    const result = optionalLoad(base, '2017')
    expect(result.worksheet?.totalVA).toBe(9000)
    expect(lineOf(result, 'First 9,000 VA')?.va).toBe(9000)
    expect(result.worksheet?.lines.filter((line) => line.counted)).toHaveLength(1)
  })
  test('heat pump with strips: compressor in full, strips 65 % (Annex D2(c))', () => {
    expect(choices({ heatPumps: [{ name: 'HP', va: 5000, supplementVA: 10_000 }] })).toEqual([
      expect.objectContaining({
        label: 'Heat pump',
        basis: 'compressor 5,000 VA + 65 % of 10,000 VA',
        va: 11_500,
        counted: true,
      }),
    ])
  })
  test('from memory: heat pump without strips and storage heat in full', () => {
    expect(
      choices({ heatPumps: [{ name: 'HP', va: 5000 }], storageHeat: [{ name: 'Storage', va: 6000 }] }),
    ).toEqual([
      expect.objectContaining({ label: 'Heat pump', basis: '100 % of 5,000 VA', va: 5000, counted: false }),
      expect.objectContaining({
        label: 'Thermal storage heat',
        basis: '100 % of 6,000 VA',
        va: 6000,
        counted: true,
      }),
    ])
  })
  test.each([
    [4, '4 controls: 40 % of 10,000 VA', 4000, []],
    [3, 'fewer than 4 controls: 65 % of 10,000 VA', 6500, []],
    [
      null,
      'fewer than 4 controls: 65 % of 10,000 VA',
      6500,
      ['Electric heat counted as fewer than 4 separate controls.'],
    ],
  ])('heaters with %s controls (65 %% from memory)', (heaterControls, basis, va, assumptions) => {
    const result = optionalLoad(
      { ...base, electricHeat: [{ name: 'Heat', va: 10_000 }], heaterControls },
      '2017',
    )
    expect(lineOf(result, 'Electric heat')).toMatchObject({ basis, va, counted: true, article: '220.82(C)' })
    expect(result.worksheet?.assumptions).toEqual(assumptions)
  })
  test('nameplates of everything else go into the sum', () => {
    const result = optionalLoad(
      { ...base, vehicles: [{ name: 'Charger', va: 7200 }], others: [{ name: 'Hot tub', va: 6000 }] },
      '2023',
    )
    expect(lineOf(result, 'Charger')).toMatchObject({ section: 'Vehicle charging', va: 7200, counted: false })
    expect(lineOf(result, 'Hot tub')).toMatchObject({ section: 'Other loads', va: 6000, counted: false })
    expect(result.worksheet?.totalVA).toBe(10_000 + 0.4 * (9000 + 13_200 - 10_000))
  })
})

describe('existing dwelling, 220.83', () => {
  const existing = (inputs: LoadInputs, edition: Edition, addsHeatingOrCooling: boolean) =>
    existingLoad(inputs, edition, { addsHeatingOrCooling })
  test('(A) first 8 kVA in full, the rest 40 %, existing heating and cooling in the sum (readings differ)', () => {
    const { worksheet } = existing(D2A, '2017', false)
    expect(worksheet).toMatchObject({
      method: 'existing',
      article: '220.83(A)',
      totalVA: 8000 + 0.4 * (29_700 + 9000 - 8000),
      volts: 240,
      neutral: { totalVA: 15_400 },
    })
    expect(worksheet?.assumptions).toEqual([
      'Existing heating and cooling are summed with the other loads; the article does not name them and readings differ.',
    ])
    expect(existing(D1A, '2017', false).worksheet?.assumptions).toEqual([])
  })
  test('(B) the larger of heating and cooling in full (from memory), the rest 8 kVA and 40 %', () => {
    const { worksheet } = existing(D2A, '2017', true)
    expect(worksheet).toMatchObject({
      article: '220.83(B)',
      totalVA: 8000 + 0.4 * 21_700 + 9000,
      assumptions: [],
    })
    expect(worksheet?.lines.at(-1)).toMatchObject({
      label: 'Larger of heating and cooling',
      va: 9000,
      counted: true,
    })
  })
  test('2026: factors not found, so undetermined', () => {
    expect(existing(D1A, '2026', false).missing).toEqual([EXISTING_FIGURES])
    expect(existing({ ...D1A, areaSqFt: null }, '2026', false).missing).toEqual([AREA_MISSING])
  })
  test('measured demand, 220.87: 125 % of it (from memory) plus what is added', () => {
    expect(measuredLoad(12_000, 9000, '2017')).toEqual({ va: 24_000, amps: 100, article: '220.87' })
    expect(measuredLoad(12_000, 0, '2026')).toEqual({ va: 15_000, amps: 63, article: '120.87' })
  })
})

describe('what is not known', () => {
  const unread: LoadInputs = {
    ...base,
    areaSqFt: null,
    dryers: [{ name: 'the dryer', va: null }],
    heatPumps: [{ name: 'the heat pump', va: 5000, supplementVA: null }],
  }
  test('is named', () => {
    const missing = ['Floor area', 'Load of the dryer', 'Heat strips of the heat pump']
    expect(missingLoads(unread)).toEqual(missing)
    expect(standardLoad(unread, '2023').missing).toEqual(missing)
    expect(optionalLoad(unread, '2023').missing).toEqual(missing)
  })
  test('every list is looked through', () => {
    const lists = [
      'cooking',
      'dryers',
      'appliances',
      'vehicles',
      'others',
      'airConditioners',
      'heatPumps',
      'electricHeat',
      'storageHeat',
    ] as const
    for (const list of lists) {
      const inputs = {
        ...base,
        [list]: [
          { name: 'it', va: null },
          { name: 'that', va: 1 },
        ],
      }
      expect(missingLoads(inputs)).toEqual(['Load of it'])
      expect(knownPart(inputs, '2023')[list].map((load) => load.name)).toEqual(['that'])
    }
  })
  test('what is known is the least the home draws', () => {
    expect(knownPart(unread, '2023')).toMatchObject({
      areaSqFt: 0,
      dryers: [],
      heatPumps: [{ va: 5000, supplementVA: 0 }],
    })
    expect(missingLoads(knownPart(unread, '2023'))).toEqual([])
  })
  test('editions before 2005 are not kept', () => {
    for (const edition of EDITIONS.filter((each) => each < '2005')) {
      expect(standardLoad(base, edition).missing).toEqual([BEFORE_LOAD_EDITIONS])
      expect(optionalLoad(base, edition).missing).toEqual([BEFORE_LOAD_EDITIONS])
      expect(existingLoad(base, edition, { addsHeatingOrCooling: false }).missing).toEqual([
        BEFORE_LOAD_EDITIONS,
      ])
    }
    expect(BEFORE_LOAD_EDITIONS).toBe('Load figures of editions before 2005')
  })
  test('cooking beyond the table', () => {
    expect(standardLoad({ ...base, cooking: [{ name: 'Range', va: 30_000 }] }, '2017').missing).toEqual([
      OUTSIDE_TABLES,
    ])
  })
})

test.each([
  ['lighting', '2017', '220.12'],
  ['lighting', '2020', '220.14(J)'],
  ['lighting', '2023', '220.41'],
  ['lightingDemand', '2023', 'Table 220.45'],
  ['vehicle', '2020', '625'],
  ['existing', '2026', '120.83'],
] as const)('the article for %s in %s is %s (2020 and 2023 from memory)', (name, edition, article) => {
  expect(loadArticle(name, edition)).toBe(article)
})

describe('properties', () => {
  const load = fc.record(
    { name: fc.constantFrom('a', 'b', 'c'), va: fc.integer({ min: 0, max: 12_000 }) },
    { noNullPrototype: true },
  )
  const list = fc.array(load, { maxLength: 4 })
  const homes: fc.Arbitrary<LoadInputs> = fc.record({
    areaSqFt: fc.integer({ min: 0, max: 10_000 }),
    smallApplianceCircuits: fc.integer({ min: 0, max: 6 }),
    laundryCircuits: fc.integer({ min: 0, max: 3 }),
    cooking: list,
    dryers: list,
    appliances: list,
    vehicles: list,
    others: list,
    airConditioners: list,
    heatPumps: list,
    electricHeat: list,
    heaterControls: fc.option(fc.integer({ min: 0, max: 8 })),
    storageHeat: list,
  })
  test('the order of loads does not matter, and the counted lines add up to the total', () => {
    fc.assert(
      fc.property(homes, fc.constantFrom<Edition[]>('2005', '2017', '2023'), (home, edition) => {
        const turned = Object.fromEntries(
          Object.entries(home).map(([name, value]) => [
            name,
            Array.isArray(value) ? value.toReversed() : value,
          ]),
        ) as unknown as LoadInputs
        for (const method of [standardLoad, optionalLoad]) {
          const { worksheet } = method(home, edition)
          const counted = worksheet!.lines
            .filter((line) => line.counted)
            .reduce((sum, line) => sum + line.va, 0)
          expect(worksheet!.totalVA).toBeCloseTo(counted, 6)
          expect(worksheet!.amps).toBe(Math.round(worksheet!.totalVA / 240))
          expect(method(turned, edition).worksheet!.totalVA).toBeCloseTo(worksheet!.totalVA, 6)
          expect(method(turned, edition).worksheet!.neutral.totalVA).toBeCloseTo(
            worksheet!.neutral.totalVA,
            6,
          )
        }
      }),
      { numRuns: 150 },
    )
  })
  test('more floor or another heater never lowers the load', () => {
    fc.assert(
      fc.property(homes, fc.integer({ min: 1, max: 5000 }), (home, more) => {
        for (const method of [standardLoad, optionalLoad]) {
          const total = (inputs: LoadInputs) => method(inputs, '2017').worksheet!.totalVA
          expect(total({ ...home, areaSqFt: home.areaSqFt! + more })).toBeGreaterThanOrEqual(total(home))
          const heated = [...home.electricHeat, { name: 'more', va: more }]
          if (method === optionalLoad)
            expect(total({ ...home, electricHeat: heated })).toBeGreaterThanOrEqual(total(home))
        }
      }),
      { numRuns: 150 },
    )
  })
})
