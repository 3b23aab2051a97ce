const WATTS_PER_KILOWATT = 1000
const DAYS_PER_YEAR = 365
export const CENTS_PER_DOLLAR = 100

export interface LampSwap {
  lamps: number
  oldWatts: number
  newWatts: number
  hoursPerDay: number
  /** Price of all new lamps together, US dollars. */
  costUsd: number
  centsPerKwh: number
}
export type Saving =
  | { kind: 'payback'; kwhPerYear: number; usdPerYear: number; years: number }
  | { kind: 'no-payback'; kwhPerYear: number; usdPerYear: number; why: string }
  | { kind: 'unknown'; missing: string[] }

const NAMES: Record<keyof LampSwap, string> = {
  lamps: 'Lamps',
  oldWatts: 'Watts per lamp',
  newWatts: 'Watts of one LED lamp',
  hoursPerDay: 'Hours lit per day',
  costUsd: 'Price of the lamps',
  centsPerKwh: 'Price of electricity',
}

export function kwhPerYear(watts: number, hoursPerDay: number): number {
  return (watts / WATTS_PER_KILOWATT) * hoursPerDay * DAYS_PER_YEAR
}

/** Years until a swap has paid for itself; where it never does the answer says so instead of naming a number. */
export function ledSaving(swap: { [Name in keyof LampSwap]: LampSwap[Name] | null }): Saving {
  const names = Object.keys(NAMES) as (keyof LampSwap)[]
  const missing = names.filter((name) => !isKnown(swap[name]))
  if (missing.length) return { kind: 'unknown', missing: missing.map((name) => NAMES[name]) }
  const { lamps, oldWatts, newWatts, hoursPerDay, costUsd, centsPerKwh } = swap as LampSwap
  const kwh = lamps * kwhPerYear(oldWatts - newWatts, hoursPerDay)
  const usd = (kwh * centsPerKwh) / CENTS_PER_DOLLAR
  const saved = { kwhPerYear: kwh, usdPerYear: usd }
  if (newWatts >= oldWatts) return { kind: 'no-payback', ...saved, why: 'The new lamps take no less power.' }
  const years = costUsd / usd
  if (!(usd > 0) || !Number.isFinite(years)) {
    return { kind: 'no-payback', ...saved, why: 'Nothing is saved at these hours and this price.' }
  }
  return { kind: 'payback', ...saved, years }
}

function isKnown(value: number | null | undefined): boolean {
  return typeof value === 'number' && Number.isFinite(value) && value >= 0
}

/** Years until a lamp has burned its rated hours; null when it is never lit. */
export function lampLifeYears(ratedHours: number, hoursPerDay: number): number | null {
  return hoursPerDay > 0 ? ratedHours / (hoursPerDay * DAYS_PER_YEAR) : null
}

/** Energy cost of one lamp as printed on its package: 3 hours a day at 11 cents (consumer label rule). */
export const LABEL_HOURS_PER_DAY = 3
export const LABEL_CENTS_PER_KWH = 11
export function labelCostUsd(watts: number): number {
  return (kwhPerYear(watts, LABEL_HOURS_PER_DAY) * LABEL_CENTS_PER_KWH) / CENTS_PER_DOLLAR
}
