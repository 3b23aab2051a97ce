import { type ConductorSize, sizeRank } from '../conductors/sizes.ts'

/** Kinds of pressure screws as the published table tells them apart. */
export type Screw = 'slot-small' | 'slot-large' | 'split-bolt' | 'hex' | 'socket'
export type SocketInches = '1/8' | '5/32' | '3/16' | '7/32' | '1/4' | '5/16' | '3/8' | '1/2'

interface Row {
  upTo: ConductorSize
  'slot-small': number | null
  'slot-large': number
  'split-bolt': number
  hex: number
}

/**
 * Tightening torque in lbf·in where equipment gives none: NFPA 70 Annex I (UL 486A-486B), as printed in an equipment
 * installation guide that ends at 350 kcmil; 2 AWG from an exam-preparation page. Small slots: to 0.047 in by 1/4 in.
 */
const BY_CONDUCTOR: readonly Row[] = [
  { upTo: '10', 'slot-small': 20, 'slot-large': 35, 'split-bolt': 80, hex: 75 },
  { upTo: '8', 'slot-small': 25, 'slot-large': 40, 'split-bolt': 80, hex: 75 },
  { upTo: '4', 'slot-small': 35, 'slot-large': 45, 'split-bolt': 165, hex: 110 },
  { upTo: '3', 'slot-small': 35, 'slot-large': 50, 'split-bolt': 275, hex: 150 },
  { upTo: '2', 'slot-small': 40, 'slot-large': 50, 'split-bolt': 275, hex: 150 },
  { upTo: '1', 'slot-small': null, 'slot-large': 50, 'split-bolt': 275, hex: 150 },
  { upTo: '2/0', 'slot-small': null, 'slot-large': 50, 'split-bolt': 385, hex: 180 },
  { upTo: '4/0', 'slot-small': null, 'slot-large': 50, 'split-bolt': 500, hex: 250 },
  { upTo: '350', 'slot-small': null, 'slot-large': 50, 'split-bolt': 650, hex: 325 },
]

/** Socket-head screws go by the key across flats, whatever the conductor. Same source. */
const BY_KEY: Readonly<Record<SocketInches, number>> = {
  '1/8': 45,
  '5/32': 100,
  '3/16': 120,
  '7/32': 150,
  '1/4': 200,
  '5/16': 275,
  '3/8': 375,
  '1/2': 500,
}

/** Screws smaller than No. 10, for 8 AWG and thinner: by slot length in inches, narrow and wide slots. */
const SMALL_SCREWS: readonly { toInches: number; narrow: number; wide: number }[] = [
  { toInches: 5 / 32, narrow: 7, wide: 9 },
  { toInches: 7 / 32, narrow: 7, wide: 12 },
  { toInches: 1 / 4, narrow: 9, wide: 12 },
]
/** Slots wider than this are wide. The table's own boundary for small slots. */
const NARROW_TO_INCHES = 0.047
const SMALL_SCREWS_TO_SIZE: ConductorSize = '8'

/** Terminal screws of a receptacle or switch with 12 AWG: test value of UL 498. */
export const DEVICE_SCREW_LBF_IN = 14

export type TorqueQuery =
  { screw: 'socket'; socketInches: SocketInches } | { screw: Exclude<Screw, 'socket'>; size: ConductorSize }

/** Published default in lbf·in; null where the table has no value for that screw and conductor. */
export function defaultTorque(query: TorqueQuery): number | null {
  if (query.screw === 'socket') return BY_KEY[query.socketInches]
  const row = BY_CONDUCTOR.find((each) => sizeRank(query.size) <= sizeRank(each.upTo))
  return row?.[query.screw] ?? null
}

/** Default of a screw smaller than No. 10 by its slot; null beyond the table. */
export function smallScrewTorque(
  size: ConductorSize,
  slot: { lengthInches: number; widthInches: number },
): number | null {
  if (sizeRank(size) > sizeRank(SMALL_SCREWS_TO_SIZE)) return null
  const row = SMALL_SCREWS.find((each) => slot.lengthInches <= each.toInches)
  if (!row) return null
  return slot.widthInches <= NARROW_TO_INCHES ? row.narrow : row.wide
}
