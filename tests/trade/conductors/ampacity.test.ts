import { describe, expect, test } from 'vitest'
import { AMPACITY_ARTICLE } from '../../../trade/conductors/ampacity-tables.ts'
import { ampacity, COLUMNS_C } from '../../../trade/conductors/ampacity.ts'
import {
  AMBIENT_ARTICLE,
  ambientFactor,
  BUNDLING_ARTICLE,
  bundlingFactor,
} from '../../../trade/conductors/factors.ts'
import {
  CONDUCTOR_SIZES,
  type ConductorMaterial,
  type ConductorSize,
} from '../../../trade/conductors/sizes.ts'
import { SMALL_CONDUCTOR_ARTICLE, smallConductorLimit } from '../../../trade/conductors/small-conductors.ts'
import type { Edition } from '../../../trade/editions.ts'
import { nec } from '../../../trade/nec.ts'

type Row = readonly [number | null, number | null, number | null]

/** IRC 2018 Table E3705.1, the numbers of NFPA 70 Table 310.16, to 500 kcmil. */
const IRC_E3705_1: Partial<Record<ConductorSize, { cu: Row; al: Row }>> = {
  '14': { cu: [15, 20, 25], al: [null, null, null] },
  '12': { cu: [20, 25, 30], al: [15, 20, 25] },
  '10': { cu: [30, 35, 40], al: [25, 30, 35] },
  '8': { cu: [40, 50, 55], al: [35, 40, 45] },
  '6': { cu: [55, 65, 75], al: [40, 50, 55] },
  '4': { cu: [70, 85, 95], al: [55, 65, 75] },
  '3': { cu: [85, 100, 115], al: [65, 75, 85] },
  '2': { cu: [95, 115, 130], al: [75, 90, 100] },
  '1': { cu: [110, 130, 145], al: [85, 100, 115] },
  '1/0': { cu: [125, 150, 170], al: [100, 120, 135] },
  '2/0': { cu: [145, 175, 195], al: [115, 135, 150] },
  '3/0': { cu: [165, 200, 225], al: [130, 155, 175] },
  '4/0': { cu: [195, 230, 260], al: [150, 180, 205] },
  '250': { cu: [215, 255, 290], al: [170, 205, 230] },
  '300': { cu: [240, 285, 320], al: [195, 230, 260] },
  '350': { cu: [260, 310, 350], al: [210, 250, 280] },
  '400': { cu: [280, 335, 380], al: [225, 270, 305] },
  '500': { cu: [320, 380, 430], al: [260, 310, 350] },
}
const rowsOf = (table: typeof IRC_E3705_1) =>
  Object.entries(table).map(([size, { cu, al }]) => [size as ConductorSize, cu, al] as const)

function row(size: ConductorSize, material: ConductorMaterial, edition: Edition): Row {
  return COLUMNS_C.map((column) => ampacity(size, material, column, edition)) as unknown as Row
}

describe('ampacity', () => {
  test.each(rowsOf(IRC_E3705_1))('IRC 2018 Table E3705.1: %s copper %j, aluminium %j', (size, cu, al) => {
    expect(row(size, 'copper', '2023')).toEqual(cu)
    expect(row(size, 'aluminium', '2011')).toEqual(al)
    expect(row(size, 'copper-clad', '2023')).toEqual(al)
  })

  test.each<[ConductorSize, ConductorMaterial, Row]>([
    ['14', 'copper', [20, 20, 25]],
    ['12', 'copper', [25, 25, 30]],
    ['3', 'copper', [85, 100, 110]],
    ['1', 'copper', [110, 130, 150]],
    ['12', 'aluminium', [20, 20, 25]],
    ['8', 'aluminium', [30, 40, 45]],
    ['6', 'aluminium', [40, 50, 60]],
    ['300', 'aluminium', [190, 230, 255]],
    ['600', 'copper', [355, 420, 475]],
    ['700', 'aluminium', [310, 375, 420]],
  ])('reprint of Table 310-16 (through 2008): %s %s %j', (size, material, expected) => {
    expect(row(size, material, '2008')).toEqual(expected)
    expect(row(size, material, '1975')).toEqual(expected)
  })

  test.each<[ConductorSize, Row, Row]>([
    ['18', [null, null, 14], [null, null, null]],
    ['16', [null, null, 18], [null, null, null]],
    ['600', [350, 420, 475], [285, 340, 385]],
    ['700', [385, 460, 520], [315, 375, 425]],
    ['750', [400, 475, 535], [320, 385, 435]],
    ['900', [435, 520, 585], [355, 425, 480]],
  ])('from memory beside the reprint: %s copper %j, aluminium %j', (size, cu, al) => {
    expect(row(size, 'copper', '2020')).toEqual(cu)
    expect(row(size, 'aluminium', '2020')).toEqual(al)
  })

  test('edition switch: 12 AWG aluminium at 60 °C is 15 A now and 20 A in older printings', () => {
    expect(ampacity('12', 'aluminium', 60, '2023')).toBe(15)
    expect(ampacity('12', 'aluminium', 60, '2005')).toBe(20)
  })

  test('grows with the size and with the insulation, in both printings', () => {
    for (const edition of ['2008', '2023'] as const) {
      for (const material of ['copper', 'aluminium'] as const) {
        for (const column of COLUMNS_C) {
          const known = CONDUCTOR_SIZES.map((size) => ampacity(size, material, column, edition)).filter(
            (amps) => amps !== null,
          )
          expect(known.toSorted((a, b) => a - b)).toEqual(known)
          expect(new Set(known).size).toBe(known.length)
        }
        for (const size of CONDUCTOR_SIZES) {
          const known = row(size, material, edition).filter((amps) => amps !== null)
          expect(known.toSorted((a, b) => a - b)).toEqual(known)
        }
      }
    }
  })

  test.each<[Edition | null, string]>([
    ['1968', 'Table 310.16'],
    ['2014', 'Table 310.15(B)(16)'],
    ['2020', 'Table 310.16'],
    [null, 'Table 310.16'],
  ])('the table’s number in the %s edition is %s', (edition, article) => {
    expect(nec(AMPACITY_ARTICLE, edition)).toEqual({ code: 'NFPA 70', ...(edition && { edition }), article })
  })
})

describe('ambient factor', () => {
  test.each<[number, number | null, number | null, number | null]>([
    [-20, 1.29, 1.2, 1.15],
    [10, 1.29, 1.2, 1.15],
    [11, 1.22, 1.15, 1.12],
    [20, 1.15, 1.11, 1.08],
    [25, 1.08, 1.05, 1.04],
    [26, 1, 1, 1],
    [30, 1, 1, 1],
    [31, 0.91, 0.94, 0.96],
    [40, 0.82, 0.88, 0.91],
    [45, 0.71, 0.82, 0.87],
    [50, 0.58, 0.75, 0.82],
    [55, 0.41, 0.67, 0.76],
    [56, null, 0.58, 0.71],
    [65, null, 0.47, 0.65],
    [70, null, 0.33, 0.58],
    [75, null, null, 0.5],
    [80, null, null, 0.41],
    [85, null, null, 0.29],
    [86, null, null, null],
  ])('IRC 2018 Table E3705.2: at %i °C %s, %s, %s', (ambientC, at60, at75, at90) => {
    expect(ambientFactor(ambientC, 60)).toBe(at60)
    expect(ambientFactor(ambientC, 75)).toBe(at75)
    expect(ambientFactor(ambientC, 90)).toBe(at90)
  })
  test('12 AWG, 90 °C insulation, at 55 °C: 30 × 0.76 = 22.8 A (IRC E3705)', () => {
    expect(ampacity('12', 'copper', 90, '2023')! * ambientFactor(55, 90)!).toBeCloseTo(22.8, 6)
  })
})

test.each([
  [1, 1],
  [3, 1],
  [4, 0.8],
  [6, 0.8],
  [7, 0.7],
  [9, 0.7],
  [10, 0.5],
  [20, 0.5],
  [21, 0.45],
  [30, 0.45],
  [31, 0.4],
  [40, 0.4],
  [41, 0.35],
  [60, 0.35],
])('NFPA 70 310.15(C)(1): %i conductors together keep %f', (conductors, share) => {
  expect(bundlingFactor(conductors)).toBe(share)
})

test('nothing in a bundle is no adjustment', () => {
  expect(bundlingFactor(0)).toBe(1)
})

describe('small conductors, NFPA 70 240.4(D)', () => {
  test.each<[ConductorSize, ConductorMaterial, Edition, number | null]>([
    ['14', 'copper', '2023', 15],
    ['12', 'copper', '2023', 20],
    ['10', 'copper', '2023', 30],
    ['12', 'aluminium', '2023', 15],
    ['10', 'aluminium', '2023', 25],
    ['12', 'copper-clad', '2020', 15],
    ['10', 'copper-clad', '2023', 25],
    ['14', 'copper', '1965', 15],
    ['8', 'copper', '2023', null],
    ['8', 'aluminium', '2023', null],
    ['14', 'aluminium', '2023', null],
  ])('%s %s under %s: %s A', (size, material, edition, amps) => {
    expect(smallConductorLimit(size, material, edition)).toBe(amps)
  })
  test('240.4(D)(3): 14 AWG copper-clad has 10 A since 2023 and nothing before', () => {
    expect(smallConductorLimit('14', 'copper-clad', '2023')).toBe(10)
    expect(smallConductorLimit('14', 'copper-clad', '2020')).toBeNull()
  })
  test('from memory: 18 AWG 7 A, 16 AWG 10 A', () => {
    expect(smallConductorLimit('18', 'copper', '2023')).toBe(7)
    expect(smallConductorLimit('16', 'copper', '2023')).toBe(10)
  })
})

test('articles of the factors and limits move with the edition', () => {
  const articles = (edition: Edition) =>
    [AMBIENT_ARTICLE, BUNDLING_ARTICLE, SMALL_CONDUCTOR_ARTICLE].map(
      (article) => nec(article, edition).article,
    )
  expect(articles('1996')).toEqual([
    'Table 310.16 correction factors',
    '310.15(B)(2)',
    'Table 310.16 footnote',
  ])
  expect(articles('1999')[2]).toBe('240.3(D)')
  expect(articles('2014')).toEqual(['Table 310.15(B)(2)(a)', 'Table 310.15(B)(3)(a)', '240.4(D)'])
  expect(articles('2023')).toEqual(['Table 310.15(B)(1)', 'Table 310.15(C)(1)', '240.4(D)'])
})
