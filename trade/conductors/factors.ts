import type { EditionRow } from '../requirement.ts'
import type { ColumnC } from './ampacity.ts'

/** NFPA 70 310.15(B)(1), base 30 °C, as in IRC 2018 E3705.2: up to that many °C, by insulation column. */
const AMBIENT_FACTORS: readonly { toC: number; 60: number | null; 75: number | null; 90: number }[] = [
  { toC: 10, 60: 1.29, 75: 1.2, 90: 1.15 },
  { toC: 15, 60: 1.22, 75: 1.15, 90: 1.12 },
  { toC: 20, 60: 1.15, 75: 1.11, 90: 1.08 },
  { toC: 25, 60: 1.08, 75: 1.05, 90: 1.04 },
  { toC: 30, 60: 1, 75: 1, 90: 1 },
  { toC: 35, 60: 0.91, 75: 0.94, 90: 0.96 },
  { toC: 40, 60: 0.82, 75: 0.88, 90: 0.91 },
  { toC: 45, 60: 0.71, 75: 0.82, 90: 0.87 },
  { toC: 50, 60: 0.58, 75: 0.75, 90: 0.82 },
  { toC: 55, 60: 0.41, 75: 0.67, 90: 0.76 },
  { toC: 60, 60: null, 75: 0.58, 90: 0.71 },
  { toC: 65, 60: null, 75: 0.47, 90: 0.65 },
  { toC: 70, 60: null, 75: 0.33, 90: 0.58 },
  { toC: 75, 60: null, 75: null, 90: 0.5 },
  { toC: 80, 60: null, 75: null, 90: 0.41 },
  { toC: 85, 60: null, 75: null, 90: 0.29 },
]
export const AMBIENT_ARTICLE: readonly EditionRow<string>[] = [
  { since: '1940', value: 'Table 310.16 correction factors', source: 'reprint of Table 310-16' },
  { since: '2011', value: 'Table 310.15(B)(2)(a)', source: 'from memory' },
  { since: '2020', value: 'Table 310.15(B)(1)', source: 'NFPA 70-2020' },
]

/**
 * NFPA 70 310.15(C)(1): share of the ampacity left to that many current-carrying conductors together. Editions before
 * 1990 printed milder shares above nine conductors (from memory); these err safely.
 */
const BUNDLING_FACTORS: readonly { from: number; share: number }[] = [
  { from: 1, share: 1 },
  { from: 4, share: 0.8 },
  { from: 7, share: 0.7 },
  { from: 10, share: 0.5 },
  { from: 21, share: 0.45 },
  { from: 31, share: 0.4 },
  { from: 41, share: 0.35 },
]
export const BUNDLING_ARTICLE: readonly EditionRow<string>[] = [
  { since: '1940', value: '310.15(B)(2)', source: 'from memory' },
  { since: '2011', value: 'Table 310.15(B)(3)(a)', source: 'NFPA 70-2011 to 2017' },
  { since: '2020', value: 'Table 310.15(C)(1)', source: 'NFPA 70-2020' },
]

/** Factor for the hottest surroundings; null where that insulation may not be used so hot. */
export function ambientFactor(ambientC: number, column: ColumnC): number | null {
  return AMBIENT_FACTORS.find((row) => ambientC <= row.toC)?.[column] ?? null
}

/** Factor for `conductors` current-carrying conductors in one raceway or bundle. */
export function bundlingFactor(conductors: number): number {
  return BUNDLING_FACTORS.findLast((row) => conductors >= row.from)?.share ?? 1
}
