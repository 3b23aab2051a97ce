import { grouped, percent, shareOf } from './worksheet.ts'

/** NFPA 70 Table 220.55 column C in volt-amperes, by number of appliances not over 12 kW: 1 from Annex D1(a), 2 to 9
 *  from memory, 10 from a journal's quiz. */
const COLUMN_C_VA = [8000, 11_000, 14_000, 17_000, 20_000, 21_000, 22_000, 23_000, 24_000, 25_000]
/** Columns A (under 3½ kW) and B (to 8¾ kW) as shares of the nameplates: A 1, B 2 and B 3 published, the rest from
 *  memory. Larger groups go by column C. */
const COLUMN_A = [0.8, 0.75, 0.7, 0.66, 0.62]
const COLUMN_B = [0.8, 0.65, 0.55, 0.5, 0.45]

const IN_TABLE_OVER_VA = 1750
const COLUMN_A_BELOW_VA = 3500
const COLUMN_B_TO_VA = 8750
const COLUMN_C_TO_VA = 12_000
const NOTES_TO_VA = 27_000
/** Notes 1 and 2: so much more of column C for each kilowatt or major part of one over 12 kW. */
const MORE_PER_KW = 0.05
const VA_PER_KW = 1000

export interface CookingDemand {
  va: number
  basis: string
}

/** Demand of ranges, ovens and cooktops together; null where the table does not reach. Order does not matter. */
export function cookingDemand(nameplatesVA: readonly number[]): CookingDemand | null {
  const small = nameplatesVA.filter((va) => va <= IN_TABLE_OVER_VA)
  const inTable = nameplatesVA.filter((va) => va > IN_TABLE_OVER_VA)
  const smallVA = total(small)
  if (inTable.length === 0) return { va: smallVA, basis: 'nameplate' }
  const options = [byColumnC(inTable), byColumnsAAndB(inTable)].filter((option) => option !== null)
  if (options.length === 0) return null
  const lowest = options.reduce((a, b) => (b.va < a.va ? b : a))
  return { va: lowest.va + smallVA, basis: lowest.basis }
}

function byColumnC(nameplatesVA: readonly number[]): CookingDemand | null {
  const base = COLUMN_C_VA[nameplatesVA.length - 1]
  if (base === undefined || nameplatesVA.some((va) => va > NOTES_TO_VA)) return null
  const average = total(nameplatesVA.map((va) => Math.max(va, COLUMN_C_TO_VA))) / nameplatesVA.length
  const kilowattsOver = Math.round((average - COLUMN_C_TO_VA) / VA_PER_KW)
  const va = base + shareOf(base, MORE_PER_KW * kilowattsOver)
  const more = kilowattsOver > 0 ? ` + ${percent(MORE_PER_KW * kilowattsOver)}` : ''
  return { va, basis: `column C, ${nameplatesVA.length}: ${grouped(base)} VA${more}` }
}

/** Note 3: a group rated 1¾ to 8¾ kW may go by its nameplates, each column for itself. */
function byColumnsAAndB(nameplatesVA: readonly number[]): CookingDemand | null {
  if (nameplatesVA.some((va) => va > COLUMN_B_TO_VA)) return null
  const a = nameplatesVA.filter((va) => va < COLUMN_A_BELOW_VA)
  const b = nameplatesVA.filter((va) => va >= COLUMN_A_BELOW_VA)
  const shareA = a.length > 0 ? COLUMN_A[a.length - 1] : 0
  const shareB = b.length > 0 ? COLUMN_B[b.length - 1] : 0
  if (shareA === undefined || shareB === undefined) return null
  const parts = []
  if (a.length > 0) parts.push(`column A, ${a.length}: ${percent(shareA)} of ${grouped(total(a))} VA`)
  if (b.length > 0) parts.push(`column B, ${b.length}: ${percent(shareB)} of ${grouped(total(b))} VA`)
  return { va: shareOf(total(a), shareA) + shareOf(total(b), shareB), basis: parts.join('; ') }
}

function total(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0)
}
