import { circularMils } from '../conductors/geometry.ts'
import { CONDUCTOR_SIZES, type ConductorMaterial, type ConductorSize } from '../conductors/sizes.ts'
import {
  ELECTRODE_CONDUCTORS,
  type Metal,
  metalOf,
  serviceRow,
} from '../grounding/electrode-conductor-table.ts'

/** Largest ungrounded conductor area that the rows of Table 250.102(C)(1) reach. */
export const LAST_ROW_CMIL: Readonly<Record<Metal, number>> = { copper: 1_100_000, aluminium: 1_750_000 }
/** Above the last row: this share of the ungrounded area, the same metal assumed. Table 250.102(C)(1) note 1. */
export const SHARE_ABOVE_TABLE = 0.125

export interface ServiceSet {
  material: ConductorMaterial
  size: ConductorSize
  /** Conductors in parallel for each ungrounded phase. */
  parallel?: number
}

/**
 * Main, system or supply-side bonding jumper, and the bond of metal water piping, by the largest ungrounded service
 * conductors. NFPA 70 Table 250.102(C)(1), since 2014; the sizes are those of Table 250.66, which served before.
 * Null when more than the largest size kept here would be needed.
 */
export function bondingJumperFor(service: ServiceSet, material: ConductorMaterial): ConductorSize | null {
  const parallel = service.parallel ?? 1
  if (parallel === 1) return serviceRow(service.material, service.size).conductor[metalOf(material)]
  const area = circularMils(service.size) * parallel
  const metal = metalOf(service.material)
  if (area > LAST_ROW_CMIL[metal]) return smallestWithArea(area * SHARE_ABOVE_TABLE)
  const row = ELECTRODE_CONDUCTORS.find(({ upTo }) => upTo && area <= areaOf(upTo[metal]))
  return row?.conductor[metalOf(material)] ?? null
}

function areaOf(limit: ConductorSize | '1100' | '1750'): number {
  if (limit === '1100') return LAST_ROW_CMIL.copper
  if (limit === '1750') return LAST_ROW_CMIL.aluminium
  return circularMils(limit)
}

function smallestWithArea(cmil: number): ConductorSize | null {
  return CONDUCTOR_SIZES.find((size) => circularMils(size) >= cmil) ?? null
}
