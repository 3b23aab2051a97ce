import { type Edition, isAtLeast } from '../editions.ts'
import type { EditionRow } from '../requirement.ts'
import { ampacity } from './ampacity.ts'
import { CONDUCTOR_SIZES, type ConductorMaterial, type ConductorSize } from './sizes.ts'

/**
 * Conductors that carry a whole dwelling, 120/240 V single-phase: they need 83 % of the rating at 75 °C when no
 * correction or adjustment applies. NFPA 70-2020 310.12; as a table since 1975, as the 83 % rule since 2014.
 */
export const DWELLING_RULE = { since: '1975', ratio: 0.83, fromAmps: 100, toAmps: 400, columnC: 75 } as const

export const DWELLING_ARTICLE: readonly EditionRow<string>[] = [
  { since: '1975', value: 'Table 310.16 note 3', source: 'number from memory' },
  { since: '1999', value: '310.15(B)(6)', source: 'from memory' },
  { since: '2011', value: '310.15(B)(7)', source: 'NFPA 70-2017' },
  { since: '2020', value: '310.12', source: 'NFPA 70-2020' },
]

/** NFPA 70-2020 Table 310.12: smallest conductor for a service or main feeder of that rating. */
export const TABLE_310_12: readonly { amps: number; copper: ConductorSize; aluminium: ConductorSize }[] = [
  { amps: 100, copper: '4', aluminium: '2' },
  { amps: 110, copper: '3', aluminium: '1' },
  { amps: 125, copper: '2', aluminium: '1/0' },
  { amps: 150, copper: '1', aluminium: '2/0' },
  { amps: 175, copper: '1/0', aluminium: '3/0' },
  { amps: 200, copper: '2/0', aluminium: '4/0' },
  { amps: 225, copper: '3/0', aluminium: '250' },
  { amps: 250, copper: '4/0', aluminium: '300' },
  { amps: 300, copper: '250', aluminium: '350' },
  { amps: 350, copper: '350', aluminium: '500' },
  { amps: 400, copper: '400', aluminium: '600' },
]

/** Whether the rule speaks of a service or feeder of that rating under that edition. */
export function dwellingRuleCovers(ratingAmps: number, edition: Edition): boolean {
  return (
    isAtLeast(edition, DWELLING_RULE.since) &&
    ratingAmps >= DWELLING_RULE.fromAmps &&
    ratingAmps <= DWELLING_RULE.toAmps
  )
}

/** Amperes that the conductors must carry at 75 °C for a service or main feeder of that rating. */
export function dwellingAmpsNeeded(ratingAmps: number): number {
  return DWELLING_RULE.ratio * ratingAmps
}

/** Smallest conductor that the 83 % rule allows; null outside 100 to 400 A. */
export function smallestDwellingConductor(
  ratingAmps: number,
  material: ConductorMaterial,
  edition: Edition,
): ConductorSize | null {
  if (!dwellingRuleCovers(ratingAmps, edition)) return null
  const needed = dwellingAmpsNeeded(ratingAmps)
  return (
    CONDUCTOR_SIZES.find(
      (size) => (ampacity(size, material, DWELLING_RULE.columnC, edition) ?? 0) >= needed,
    ) ?? null
  )
}
