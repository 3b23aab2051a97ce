import type { TESTER } from '../checklist/readings.ts'
import type { ValuesOf } from '../fields.ts'
import type { Severity } from '../verdict.ts'

export type TesterPattern = NonNullable<ValuesOf<typeof TESTER>['pattern']>

/** The three lamps sit between these slots. True = lit. */
export interface Lamps {
  neutralGround: boolean
  hotNeutral: boolean
  hotGround: boolean
}

interface PatternMeaning {
  lamps: Lamps
  /** What the lamps can mean, with everything that looks the same. */
  technician: string
  homeowner: string
  /** Null = nothing wrong that the tester can see. */
  severity: Severity | null
}

const lit = (neutralGround: boolean, hotNeutral: boolean, hotGround: boolean): Lamps => ({
  neutralGround,
  hotNeutral,
  hotGround,
})

/** Legend of three-light testers. "All lit" stands in none; severities are common practice, no source. */
export const PATTERNS: Readonly<Record<TesterPattern, PatternMeaning>> = {
  correct: {
    lamps: lit(false, true, true),
    technician:
      'Tester shows correct, bootleg not excluded: ground quality and a ground-neutral swap stay unseen',
    homeowner: 'The outlets tried here show the usual wiring, as far as a plug-in tester can tell.',
    severity: null,
  },
  'open-ground': {
    lamps: lit(false, true, false),
    technician: 'Open ground; polarity not determinable by the tester',
    homeowner: 'An outlet here has no working ground. There are several accepted ways to put that right.',
    severity: 'repair',
  },
  'open-neutral': {
    lamps: lit(false, false, true),
    technician: 'Open neutral',
    homeowner: 'A wire to an outlet here is interrupted. It should be mended before the outlet is used.',
    severity: 'repair',
  },
  'open-hot': {
    lamps: lit(false, false, false),
    technician: 'Open hot, or switched off or tripped',
    homeowner: 'An outlet here has no power. We need to find out why.',
    severity: 'investigate',
  },
  'hot-ground-reversed': {
    lamps: lit(true, false, true),
    technician: 'Hot and ground reversed, or open neutral with a load',
    homeowner:
      'Metal of things plugged in here could be live. Please leave this outlet unused until it is mended.',
    severity: 'unsafe',
  },
  'hot-neutral-reversed': {
    lamps: lit(true, true, false),
    technician: 'Hot and neutral reversed, or open ground with a load',
    homeowner:
      'Two wires of an outlet here are swapped, so a switched-off lamp can still be live. It is simple to mend.',
    severity: 'repair',
  },
  'all-lit': {
    lamps: lit(true, true, true),
    technician: 'All lamps lit, which stands in no legend: suspect a loose neutral or a connected load',
    homeowner: 'The tester shows something unusual at an outlet here. We need to look further.',
    severity: 'investigate',
  },
}

/** Null for the one combination that no wiring and no legend gives: only the neutral-ground lamp. */
export function patternOfLamps(lamps: Lamps): TesterPattern | null {
  const names = Object.keys(PATTERNS) as TesterPattern[]
  return (
    names.find((name) => {
      const known = PATTERNS[name].lamps
      return (
        known.neutralGround === lamps.neutralGround &&
        known.hotNeutral === lamps.hotNeutral &&
        known.hotGround === lamps.hotGround
      )
    }) ?? null
  )
}

/** What no three-light tester can show, whatever its lamps say. */
export const TESTER_CANNOT_SEE: readonly string[] = [
  'a bootleg ground (neutral joined to ground) reads correct',
  'a bootleg with hot and neutral reversed reads correct too, with live metal: the most dangerous of all',
  'neutral and ground swapped reads correct',
  'a poor ground reads like a good one',
  'reversed polarity does not show where the ground is open',
  'loads plugged in elsewhere turn an open neutral or ground into a reversal',
]
