import type { ColumnC } from '../conductors/ampacity.ts'
import { ampacityOfRun, type Run, type RunAmpacity } from '../conductors/run.ts'
import { smallConductorLimit } from '../conductors/small-conductors.ts'
import type { Edition } from '../editions.ts'
import { largestDeviceAmps } from './standard-ratings.ts'

/** A conductor behind a breaker or fuse, as far as it is recorded. */
export interface ProtectedRun extends Pick<Run, 'size' | 'material' | 'wiring' | 'ambientC' | 'bundled'> {
  deviceAmps: number
  insulationC: ColumnC | null
  terminalC: 60 | 75 | null
  feedsSeveralReceptacles: boolean | null
}

export interface Protection {
  /** Largest device that may protect the run. */
  permittedAmps: number
  limitedBy: 'small-conductor' | 'ampacity' | 'next-size-up'
  run: RunAmpacity
  edition: Edition
}

/** What may stand in for a detail that nobody wrote down: the least and the most that it can allow. */
const UNRECORDED = {
  least: { insulationC: 60, terminalC: null, feedsSeveralReceptacles: true },
  most: { insulationC: 90, terminalC: 75, feedsSeveralReceptacles: false },
} as const
type Unrecorded = keyof typeof UNRECORDED.least
const UNRECORDED_NAMES = ['insulationC', 'terminalC', 'feedsSeveralReceptacles'] as const

/** Every detail that matters, recorded or assumed. */
type FilledRun = Omit<ProtectedRun, 'insulationC' | 'feedsSeveralReceptacles'> & {
  insulationC: ColumnC
  feedsSeveralReceptacles: boolean
}

function protectionOf(run: FilledRun, edition: Edition): Protection {
  const ampacity = ampacityOfRun(run, run.deviceAmps, edition)
  const limit = smallConductorLimit(run.size, run.material, edition)
  if (limit !== null && ampacity.tableAmps === 0) {
    // Sizes that the ampacity table leaves out (14 AWG copper-clad) have only their limit. Heat and company leave them
    // as little of it as they leave thicker ones of theirs.
    const permittedAmps = limit * Math.min(1, ampacity.ambientFactor * ampacity.bundlingFactor)
    return { permittedAmps, limitedBy: 'small-conductor', run: ampacity, edition }
  }
  const byAmpacity = largestDeviceAmps(ampacity.amps, run, edition)
  if (limit !== null && limit <= byAmpacity) {
    return { permittedAmps: limit, limitedBy: 'small-conductor', run: ampacity, edition }
  }
  const limitedBy = byAmpacity > ampacity.amps ? 'next-size-up' : 'ampacity'
  return { permittedAmps: byAmpacity, limitedBy, run: ampacity, edition }
}

function assuming(run: ProtectedRun, bound: 'least' | 'most', except?: Unrecorded): FilledRun {
  const assumed = UNRECORDED[bound]
  const other = UNRECORDED[bound === 'least' ? 'most' : 'least']
  const pick = <Name extends Unrecorded>(name: Name) => (name === except ? other[name] : assumed[name])
  // Written out: runs of circuits, feeders and taps get one shape, which the engine judges in half the time.
  return {
    size: run.size,
    material: run.material,
    wiring: run.wiring,
    ambientC: run.ambientC,
    bundled: run.bundled,
    deviceAmps: run.deviceAmps,
    insulationC: run.insulationC ?? pick('insulationC'),
    terminalC: run.terminalC ?? pick('terminalC'),
    feedsSeveralReceptacles: run.feedsSeveralReceptacles ?? pick('feedsSeveralReceptacles'),
  }
}

export interface ProtectionBounds {
  /** With every unrecorded detail at its worst, and at its best. Equal when nothing that matters is unrecorded. */
  least: Protection
  most: Protection
}

/** Bounds over what is not recorded and over the editions that may govern. */
export function protectionBounds(run: ProtectedRun, editions: readonly Edition[]): ProtectionBounds {
  const isRecorded = UNRECORDED_NAMES.every((name) => run[name] !== null)
  const least = editions.map((edition) => protectionOf(assuming(run, 'least'), edition))
  const most = isRecorded ? least : editions.map((edition) => protectionOf(assuming(run, 'most'), edition))
  return {
    least: least.reduce((a, b) => (b.permittedAmps < a.permittedAmps ? b : a)),
    most: most.reduce((a, b) => (b.permittedAmps > a.permittedAmps ? b : a)),
  }
}

/** Unrecorded details that turn the answer `passes` gives in one of the editions; none where only the edition does. */
export function decisiveDetails(
  run: ProtectedRun,
  editions: readonly Edition[],
  passes: (protection: Protection) => boolean,
): Unrecorded[] {
  const turns = (name: Unrecorded, bound: 'least' | 'most', edition: Edition) =>
    passes(protectionOf(assuming(run, bound), edition)) !==
    passes(protectionOf(assuming(run, bound, name), edition))
  return UNRECORDED_NAMES.filter(
    (name) =>
      run[name] === null &&
      editions.some((edition) => turns(name, 'most', edition) || turns(name, 'least', edition)),
  )
}
