import type { Edition } from '../editions.ts'
import { type EditionRow, valueIn } from '../requirement.ts'
import type { ConductorMaterial, ConductorSize } from './sizes.ts'

type Limits = Readonly<Record<ConductorMaterial, Partial<Record<ConductorSize, number>>>>

const BEFORE_2023: Limits = {
  copper: { '18': 7, '16': 10, '14': 15, '12': 20, '10': 30 },
  aluminium: { '12': 15, '10': 25 },
  'copper-clad': { '12': 15, '10': 25 },
}

/**
 * Largest overcurrent device in amperes after every factor. That older editions had the same limits, as a note to the
 * ampacity table, and the limits of 18 and 16 AWG are from memory.
 */
const SMALL_CONDUCTOR_LIMITS: readonly EditionRow<Limits>[] = [
  { since: '1940', value: BEFORE_2023, source: 'NFPA 70 240.4(D), two copies' },
  {
    since: '2023',
    value: { ...BEFORE_2023, 'copper-clad': { '14': 10, ...BEFORE_2023['copper-clad'] } },
    source: 'NFPA 70-2023 240.4(D)(3)',
  },
]
export const SMALL_CONDUCTOR_ARTICLE: readonly EditionRow<string>[] = [
  { since: '1940', value: 'Table 310.16 footnote', source: 'from memory' },
  { since: '1999', value: '240.3(D)', source: 'from memory' },
  { since: '2002', value: '240.4(D)', source: 'NFPA 70 240.4(D), two copies' },
]

/** Null for conductors that the limits do not name: 8 AWG and larger. */
export function smallConductorLimit(
  size: ConductorSize,
  material: ConductorMaterial,
  edition: Edition,
): number | null {
  return valueIn(SMALL_CONDUCTOR_LIMITS, edition)?.[material][size] ?? null
}
