/** An old incandescent lamp and what gives the same light: lumens after the efficiency law of 2007 (EISA), DOE list. */
export interface LampSwapRow {
  oldWatts: number
  lumens: number
  efficientLumens: readonly [from: number, to: number]
  /** Most that an efficient lamp of that light may take. */
  maxWatts: number
}

export const LAMP_SWAPS: readonly LampSwapRow[] = [
  { oldWatts: 40, lumens: 450, efficientLumens: [310, 749], maxWatts: 29 },
  { oldWatts: 60, lumens: 800, efficientLumens: [750, 1049], maxWatts: 43 },
  { oldWatts: 75, lumens: 1100, efficientLumens: [1050, 1489], maxWatts: 53 },
  { oldWatts: 100, lumens: 1600, efficientLumens: [1490, 2600], maxWatts: 72 },
]

/** The old lamp that a lamp of so many lumens stands in for; null outside the table. */
export function replacesLamp(lumens: number): LampSwapRow | null {
  return LAMP_SWAPS.find(({ efficientLumens: [from, to] }) => lumens >= from && lumens <= to) ?? null
}
