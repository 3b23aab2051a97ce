import type { Edition } from '../editions.ts'
import { articleIn } from '../nec.ts'
import type { EditionRow } from '../requirement.ts'

/** Oldest edition whose load figures are kept here. */
export const LOADS_SINCE: Edition = '2005'

export const LIGHTING_VA_PER_SQFT: readonly EditionRow<number>[] = [
  { since: '2005', value: 3, source: 'NFPA 70-2005 Annex D1(a)' },
  { since: '2026', value: 2, source: 'trade blog quoting a journal on NFPA 70-2026' },
]

/** NFPA 70-2005 220.52 and 210.11(C): volt-amperes per circuit, and the fewest circuits a home counts. */
export const APPLIANCE_CIRCUIT_VA = 1500
export const FEWEST_SMALL_APPLIANCE_CIRCUITS = 2
export const FEWEST_LAUNDRY_CIRCUITS = 1

/** NFPA 70-2005 Table 220.42; the third step from memory. Each step reaches up to that many volt-amperes. */
export const LIGHTING_DEMAND: readonly { toVA: number; share: number }[] = [
  { toVA: 3000, share: 1 },
  { toVA: 120_000, share: 0.35 },
  { toVA: Infinity, share: 0.25 },
]

/** NFPA 70 220.53: four or more appliances fastened in place. */
export const FIXED_APPLIANCES = { from: 4, share: 0.75 }
/** Smaller ones count neither towards the four nor at the lower share. */
export const SMALLEST_FIXED_APPLIANCE_VA: readonly EditionRow<number>[] = [
  { since: '2005', value: 0, source: 'no threshold in the 2005 text, from memory' },
  { since: '2023', value: 500, source: 'NFPA 70-2023 220.53 as quoted in a trade forum' },
]

/** NFPA 70 Table 220.54 by number of dryers: 1 to 8 from memory, 9 to 11 from a published extract. */
export const DRYER_SHARES: readonly number[] = [1, 1, 1, 1, 0.85, 0.75, 0.65, 0.6, 0.55, 0.5, 0.47]
export const SMALLEST_DRYER_VA = 5000

/** Vehicle supply equipment in the standard method: at least so much. Null = the edition's figure is not known. */
export const SMALLEST_VEHICLE_VA: readonly EditionRow<number | null>[] = [
  { since: '2005', value: 0, source: 'no rule of its own: nameplate' },
  { since: '2023', value: 7200, source: 'NFPA 70-2023 220.57 as quoted in a course text' },
  { since: '2026', value: null, source: 'change reported, figure not confirmed' },
]

/** NFPA 70 430.24: a quarter of the largest motor on top. */
export const LARGEST_MOTOR_SHARE = 0.25
/** NFPA 70 220.61: ranges and dryers on the neutral. */
export const NEUTRAL_SHARE = 0.7

/** NFPA 70 220.82(B): first part in full, the rest at that share. */
export const OPTIONAL_FIRST_VA: readonly EditionRow<number>[] = [
  { since: '2005', value: 10_000, source: 'NFPA 70-2005 Annex D2(a)' },
  { since: '2026', value: 8000, source: 'trade blog quoting a journal on NFPA 70-2026' },
]
export const REMAINDER_SHARE = 0.4
/** NFPA 70 220.82: only where the service conductors carry that much. */
export const OPTIONAL_FROM_AMPS = 100

/** NFPA 70 220.82(C): strips of a heat pump 65 % (Annex D2(c)); heaters with own controls 40 % from four on (Annex
 *  D2(a)), fewer 65 % (from memory). */
export const SUPPLEMENT_SHARE = 0.65
export const HEATER_SHARES = { manyFrom: 4, many: 0.4, few: 0.65 }

/** NFPA 70 220.83. The 2026 table has other factors, which are not known here: null. */
export const EXISTING_FIRST_VA: readonly EditionRow<number | null>[] = [
  { since: '2005', value: 8000, source: 'NFPA 70 220.83 as quoted in a trade forum' },
  { since: '2026', value: null, source: 'one table for both cases; factors not found' },
]

/** NFPA 70 220.87: measured maximum demand. The share is from memory. */
export const MEASURED_SHARE = 1.25

const same = (number: string): EditionRow<string>[] => [
  { since: '2005', value: `220.${number}`, source: 'NFPA 70-2005 to 2023' },
  { since: '2026', value: `120.${number}`, source: 'NFPA 70-2026 article 120 keeps the suffixes' },
]

const ARTICLES = {
  lighting: [
    { since: '2005', value: '220.12', source: 'NFPA 70-2005' },
    { since: '2020', value: '220.14(J)', source: 'from memory' },
    { since: '2023', value: '220.41', source: 'from memory' },
    { since: '2026', value: '120.41', source: 'continuing-education note' },
  ],
  lightingDemand: [
    { since: '2005', value: 'Table 220.42', source: 'NFPA 70-2005' },
    { since: '2023', value: 'Table 220.45', source: 'from memory' },
    { since: '2026', value: 'Table 120.45', source: 'suffix kept, from memory' },
  ],
  applianceCircuits: same('52'),
  fixed: same('53'),
  dryer: same('54'),
  cooking: same('55'),
  vehicle: [
    { since: '2005', value: '625', source: 'article only, from memory' },
    { since: '2023', value: '220.57', source: 'NFPA 70-2023' },
  ],
  noncoincident: same('60'),
  neutral: same('61'),
  optional: same('82'),
  existing: same('83'),
  measured: same('87'),
  others: same('14'),
  motor: [{ since: '2005', value: '430.24', source: 'NFPA 70-2005 Annex D1(b)' }],
} satisfies Record<string, EditionRow<string>[]>
export type LoadArticle = keyof typeof ARTICLES

export function loadArticle(name: LoadArticle, edition: Edition): string {
  return articleIn(ARTICLES[name], edition)
}
