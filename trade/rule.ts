import type { Day } from './dates.ts'
import type { RuleContext } from './editions.ts'
import type { EquipmentKind, EquipmentOf } from './equipment.ts'
import type { Home } from './home.ts'
import type { Space } from './property.ts'
import type { Verdict } from './verdict.ts'

/**
 * A rule in two steps: `inputs` picks what it needs from the record, `judge` decides on those inputs alone. The tests
 * call `judge` with the published cases; the field sheet and the whole-home evaluation call both.
 */
export interface EquipmentRule<Kind extends EquipmentKind, Inputs> {
  id: string
  title: string
  kind: Kind
  /**
   * Kinds of other equipment that `inputs` looks at in the home. Left out: none where `inputs` does not take the home,
   * any where it does.
   */
  watches?: readonly EquipmentKind[] | null
  inputs: (subject: EquipmentOf<Kind>, home: Home) => Inputs
  /** Day whose edition counts as "when built", where it is another than that of the subject. */
  installedOn?: (inputs: Inputs) => Day | null
  judge: (inputs: Inputs, context: RuleContext) => Verdict
}

/** A rule about one room or place. */
export interface SpaceRule<Inputs> {
  id: string
  title: string
  /** As for equipment. */
  watches?: readonly EquipmentKind[] | null
  /** Null when the rule has nothing to say about that kind of space. */
  inputs: (space: Space, home: Home) => Inputs | null
  judge: (inputs: Inputs, context: RuleContext) => Verdict
}

/** A rule about the home as a whole: coverage, load, electrode system. */
export interface HomeRule<Inputs> {
  id: string
  title: string
  /** Kinds of equipment whose change can change the verdict; null = any. */
  watches: readonly EquipmentKind[] | null
  inputs: (home: Home) => Inputs
  /** Day on which the part in question was put in: its edition counts as "when built". Left out or null: the home's. */
  installedOn?: (inputs: Inputs) => Day | null
  judge: (inputs: Inputs, context: RuleContext) => Verdict[]
}

/** A rule about readings typed for one checklist item (tester pattern, trip time, voltage under load …). */
export interface ReadingRule<Readings, Inputs> {
  id: string
  title: string
  inputs: (readings: Readings, subject: { space: Space | null }, home: Home) => Inputs
  judge: (inputs: Inputs, context: RuleContext) => Verdict
}

/**
 * A rule about equipment of some kind, for lists of several. Each rule's `judge` takes what its own `inputs` made, which a
 * list cannot name.
 */
// eslint-disable-next-line @typescript-eslint/no-explicit-any
export type AnyEquipmentRule = { [Kind in EquipmentKind]: EquipmentRule<Kind, any> }[EquipmentKind]
