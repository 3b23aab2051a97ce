import type { Edition } from '../editions.ts'
import { valueIn } from '../requirement.ts'
import { AMPACITY_TABLES } from './ampacity-tables.ts'
import type { ConductorMaterial, ConductorSize } from './sizes.ts'

/** Temperature of an insulation or a terminal, as the ampacity table's columns are headed. */
export const COLUMNS_C = [60, 75, 90] as const
export type ColumnC = (typeof COLUMNS_C)[number]

/**
 * Amperes of a conductor with at most three current-carrying conductors at 30 °C. Null where the edition's table
 * prints none (14 AWG aluminium; 18 and 16 AWG below the 90 °C column).
 */
export function ampacity(
  size: ConductorSize,
  material: ConductorMaterial,
  column: ColumnC,
  edition: Edition,
): number | null {
  const table = valueIn(AMPACITY_TABLES, edition)
  const row = table?.[material === 'copper' ? 'copper' : 'aluminium'][size]
  return row?.[COLUMNS_C.indexOf(column)] ?? null
}
