import { TESTER } from '../checklist/readings.ts'
import type { RuleContext } from '../editions.ts'
import type { ValuesOf } from '../fields.ts'
import type { DetailsOf } from '../equipment.ts'
import { equipmentIn, type Home } from '../home.ts'
import { type Basis, finding, onClocks, sound, undetermined } from '../judging.ts'
import { clocksOf, type Requirement } from '../requirement.ts'
import type { ReadingRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'
import { type Lamps, patternOfLamps, PATTERNS, type TesterPattern } from './tester-patterns.ts'
import { optionsPhrase } from './ungrounded-options.ts'

export type TesterReadings = ValuesOf<typeof TESTER>

export interface TesterInputs extends TesterReadings {
  /** Lamps as seen, where the pattern was not chosen by name. */
  lamps?: Lamps
  /** Every receptacle of this place that is known to have no ground is ground-fault protected. */
  ungroundedProtected?: boolean
  /** Every receptacle recorded in this place is two-slot: a three-light tester does not even fit. */
  onlyTwoSlot?: boolean
}

/** Wires on the terminals meant for them. */
export const POLARITY: Requirement = {
  keys: ['receptacles.tester'],
  rows: [
    { since: '1978', required: true, article: '200-11', source: 'from memory' },
    { since: '2002', required: true, article: '200.11', source: 'from memory' },
  ],
  before: 'unknown',
}

/** The name chosen wins over lamps; a pattern is only ever as good as what the tester can see. */
export function judgeTester(inputs: TesterInputs, context: RuleContext): Verdict {
  const { lamps, ...readings } = inputs
  const pattern: TesterPattern | null = inputs.pattern ?? (lamps ? patternOfLamps(lamps) : null)
  const basis: Basis = onClocks(
    {
      rule: 'receptacles.tester',
      inputs: {
        ...readings,
        pattern,
        ...(lamps && { ...lamps }),
      },
      figures: [
        ...(inputs.sampled == null
          ? []
          : [{ label: TESTER.sampled.label, value: inputs.sampled, unit: 'count' as const }]),
        ...(inputs.opened == null
          ? []
          : [{ label: TESTER.opened.label, value: inputs.opened, unit: 'count' as const }]),
      ],
    },
    clocksOf(POLARITY, context),
  )
  if (!pattern && lamps) {
    return finding(basis, 'investigate', {
      technician:
        'Only the neutral-ground lamp lit: no wiring gives that alone; try another tester and a meter.',
      homeowner: PATTERNS['all-lit'].homeowner,
    })
  }
  if (!pattern && inputs.onlyTwoSlot) {
    return undetermined(basis, ['Polarity by a meter to a known ground (not determinable by the tester)'])
  }
  if (!pattern) return undetermined(basis, [TESTER.pattern.label])
  const { severity, technician, homeowner } = PATTERNS[pattern]
  if (severity === null) return sound(basis, { technician: `${technician}.`, homeowner })
  if (pattern === 'open-ground') {
    return inputs.ungroundedProtected
      ? finding(basis, 'improve', {
          technician: `${technician}; the ungrounded receptacles recorded here are ground-fault protected.`,
          homeowner: 'An outlet here has no ground; the protection in front of it guards you against shock.',
        })
      : finding(basis, severity, { technician: `${technician}; ${optionsPhrase()}.`, homeowner })
  }
  const confirm = inputs.loadsUnplugged
    ? 'confirm with a meter to a known ground'
    : 'unplug loads, then confirm with a meter to a known ground'
  return finding(basis, severity, { technician: `${technician}; ${confirm}.`, homeowner })
}

function receptaclesIn(home: Home, spaceId: string): DetailsOf<'receptacle'>[] {
  return equipmentIn(home, spaceId).flatMap((each) => (each.kind === 'receptacle' ? each.details : []))
}

export const tester: ReadingRule<TesterReadings, TesterInputs> = {
  id: 'receptacles.tester',
  title: 'Receptacle tester pattern',
  inputs: ({ pattern, loadsUnplugged, sampled, opened }, { space }, home) => {
    const here = space ? receptaclesIn(home, space.id) : []
    const ungrounded = here.filter((each) => each.groundPresent === false)
    return {
      pattern,
      loadsUnplugged,
      sampled,
      opened,
      ungroundedProtected:
        ungrounded.length > 0 && ungrounded.every((each) => each.groundFault && each.groundFault !== 'none'),
      onlyTwoSlot: here.length > 0 && here.every((each) => each.slots === 'two'),
    }
  },
  judge: judgeTester,
}
