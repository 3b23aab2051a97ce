import { ampacity } from '../conductors/ampacity.ts'
import { circularMils } from '../conductors/geometry.ts'
import { CONDUCTOR_SIZES, type ConductorMaterial, type ConductorSize, sizeRank } from '../conductors/sizes.ts'
import { NEWEST_EDITION } from '../requirement.ts'
import { type Metal, metalOf } from './electrode-conductor-table.ts'

/** Equipment grounding conductor by the circuit's overcurrent device. NFPA 70 Table 250.122 (Table 250-95 before 1999). */
export const EQUIPMENT_CONDUCTORS: readonly ({ upToAmps: number } & Record<Metal, ConductorSize>)[] = [
  { upToAmps: 15, copper: '14', aluminium: '12' },
  { upToAmps: 20, copper: '12', aluminium: '10' },
  { upToAmps: 60, copper: '10', aluminium: '8' },
  { upToAmps: 100, copper: '8', aluminium: '6' },
  { upToAmps: 200, copper: '6', aluminium: '4' },
  { upToAmps: 300, copper: '4', aluminium: '2' },
  { upToAmps: 400, copper: '3', aluminium: '1' },
  { upToAmps: 500, copper: '2', aluminium: '1/0' },
  { upToAmps: 600, copper: '1', aluminium: '2/0' },
  { upToAmps: 800, copper: '1/0', aluminium: '3/0' },
]

export interface TableSize {
  size: ConductorSize
  row: string
}

/** The table's own size; null above its last row kept here, which no home reaches. */
export function equipmentConductorFor(amps: number, material: ConductorMaterial): TableSize | null {
  const row = EQUIPMENT_CONDUCTORS.find((each) => amps <= each.upToAmps)
  return row ? { size: row[metalOf(material)], row: `device up to ${row.upToAmps} A` } : null
}

/** Never required larger than the circuit's own conductors. NFPA 70 250.122(A). Metals that differ are not compared. */
export function cappedByCircuit(
  wanted: ConductorSize,
  material: ConductorMaterial,
  circuit: { material?: ConductorMaterial; size?: ConductorSize },
): ConductorSize {
  const comparable = circuit.material && circuit.size && metalOf(circuit.material) === metalOf(material)
  return comparable && sizeRank(circuit.size!) < sizeRank(wanted) ? circuit.size! : wanted
}

/** Areas are printed rounded, so a size that is short by less than this share still fits. */
const AREA_TOLERANCE = 0.001

/** Conductors made larger than they need be ask for a grounding conductor larger in the same ratio. 250.122(B). */
export function enlargedInProportion(
  wanted: ConductorSize,
  needed: ConductorSize,
  actual: ConductorSize,
): ConductorSize | null {
  const ratio = circularMils(actual) / circularMils(needed)
  if (ratio <= 1) return wanted
  const area = circularMils(wanted) * ratio * (1 - AREA_TOLERANCE)
  return CONDUCTOR_SIZES.find((size) => circularMils(size) >= area) ?? null
}

/**
 * Terminals are taken as 60 °C, which never calls a conductor enlarged that may not be. That column holds the limits of
 * small conductors already: 15, 20 and 30 A for 14, 12 and 10 AWG copper.
 */
const ASSUMED_TERMINAL_C = 60

/** Smallest conductor that may be protected at that rating. */
export function smallestConductorFor(amps: number, material: ConductorMaterial): ConductorSize | null {
  const carried = (size: ConductorSize) => ampacity(size, material, ASSUMED_TERMINAL_C, NEWEST_EDITION) ?? 0
  return CONDUCTOR_SIZES.find((size) => carried(size) >= amps) ?? null
}
