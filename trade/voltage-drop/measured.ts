import type { ConductorMaterial, ConductorSize } from '../conductors/sizes.ts'
import { ADVISED_BRANCH_PERCENT, ADVISED_TOTAL_PERCENT, type Drop, dropOf, expectedDrop } from './expected.ts'

/** One makers' manual of branch-circuit analysers calls 0 to 8 % normal, another asks for under 5 %. */
export const DISPUTED_TO_PERCENT = 8
/** What the advice leaves to the feeder: 5 % in all less 3 % for the branch. More than that is not the run. */
export const FEEDER_SHARE_PERCENT = ADVISED_TOTAL_PERCENT - ADVISED_BRANCH_PERCENT

export interface Measured {
  volts: number
  loadedVolts: number
  /** The tester's load; needed to compare with the run. */
  loadAmps?: number | null
  run?: { feet: number; size: ConductorSize; material: ConductorMaterial } | null
}

export type Suggestion = 'within-advice' | 'long-run' | 'high-resistance' | 'run-not-known'

export interface DropReading {
  measured: Drop
  expected: Drop | null
  /** Percentage points beyond the run; null while the run or the load is not known. */
  excessPercent: number | null
  suggests: Suggestion
}

/** What the tester saw, what the run explains, and what the rest suggests. */
export function readDrop({ volts, loadedVolts, loadAmps, run }: Measured): DropReading {
  const measured = dropOf(volts - loadedVolts, volts)
  const expected =
    run && loadAmps != null
      ? expectedDrop({ volts, amps: loadAmps, feet: run.feet, size: run.size, material: run.material })
      : null
  const excessPercent = expected && measured.percent - expected.percent
  return { measured, expected, excessPercent, suggests: suggestionOf(measured.percent, excessPercent) }
}

function suggestionOf(percent: number, excess: number | null): Suggestion {
  if (excess !== null && excess > FEEDER_SHARE_PERCENT) return 'high-resistance'
  if (percent <= ADVISED_TOTAL_PERCENT) return 'within-advice'
  return excess === null ? 'run-not-known' : 'long-run'
}
