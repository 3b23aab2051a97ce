import type { EquipmentOf } from '../../../trade/equipment.ts'

type Circuit = EquipmentOf<'circuit'>

/** One breaker's place as it hangs on the wall, or a place with none; positions and rows count from 1. */
export interface PanelPlace {
  position: number
  column: 1 | 2
  row: number
  /** Rows that it takes: one per pole. */
  rows: number
  /** Two where the record puts two breakers in one place, as half-size breakers do; none where it is free. */
  circuits: readonly Circuit[]
}
export interface PanelLayout {
  places: readonly PanelPlace[]
  /** Breakers of which nobody wrote down where they sit. */
  unplaced: readonly Circuit[]
}

/** Poles of one breaker lie under each other on the same side: 1, 3, 5 … on the left, 2, 4, 6 … on the right. */
const positionsOf = (position: number, poles: number) =>
  Array.from({ length: poles }, (_, pole) => position + 2 * pole)

/** Breakers by position, and the free places between them up to the size of the panel, from the top down. */
export function panelLayout(circuits: readonly Circuit[], positions: number | null): PanelLayout {
  const taken = new Map<number, { start: number; circuits: Circuit[] }>()
  const placed = circuits
    .filter(({ details }) => details.position != null)
    .toSorted((a, b) => a.details.position! - b.details.position!)
  for (const circuit of placed) {
    const { position, poles } = circuit.details
    const at = positionsOf(position!, poles ?? 1)
    const shared = at.map((each) => taken.get(each)).find((each) => each !== undefined)
    const place = shared ?? { start: position!, circuits: [] }
    place.circuits.push(circuit)
    for (const each of at) if (!taken.has(each)) taken.set(each, place)
  }
  const last = Math.max(0, positions ?? 0, ...taken.keys())
  const places = Array.from({ length: last }, (_, index) => index + 1).flatMap((position): PanelPlace[] => {
    const place = taken.get(position)
    if (place && place.start !== position) return []
    const own = place ? [...taken].filter(([, each]) => each === place).map(([at]) => at) : [position]
    return [
      {
        position,
        column: position % 2 === 1 ? 1 : 2,
        row: Math.ceil(position / 2),
        rows: (Math.max(...own) - position) / 2 + 1,
        circuits: place?.circuits ?? [],
      },
    ]
  })
  return { places, unplaced: circuits.filter(({ details }) => details.position == null) }
}
