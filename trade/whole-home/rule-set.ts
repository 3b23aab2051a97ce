import type { RuleContext } from '../editions.ts'
import { EQUIPMENT_KINDS, type Equipment, type EquipmentKind } from '../equipment.ts'
import type { Home } from '../home.ts'
import type { Space } from '../property.ts'
import type { AnyEquipmentRule, HomeRule, ReadingRule, SpaceRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'
import type { Contexts } from './context.ts'

/**
 * A rule with its inputs joined to its judgement, so that rules with different inputs stand in one list.
 * `Subject` is a piece of equipment, a space, or nothing for the home.
 */
export interface JoinedRule<Subject> {
  id: string
  title: string
  /** Kinds of other equipment whose change can change the verdict; null = any. */
  watches: readonly EquipmentKind[] | null
  /** Null when the rule has nothing to say about this subject. `context` is that of the subject. */
  judge: (subject: Subject, home: Home, context: RuleContext, contexts: Contexts) => Verdict | null
}
export interface JoinedHomeRule {
  id: string
  title: string
  watches: readonly EquipmentKind[] | null
  judge: (home: Home, contexts: Contexts) => readonly Verdict[]
}
export interface JoinedReadingRule {
  id: string
  title: string
  judge: (
    readings: Readonly<Record<string, unknown>>,
    subject: { space: Space | null },
    home: Home,
    context: RuleContext,
  ) => Verdict
}

/** Every rule, by what it judges. */
export interface RuleSet {
  equipment: ReadonlyMap<EquipmentKind, readonly JoinedRule<Equipment>[]>
  spaces: readonly JoinedRule<Space>[]
  homes: readonly JoinedHomeRule[]
  readings: readonly JoinedReadingRule[]
  spokenAt: SpokenAt
}

/**
 * By rule id, the items of the checklist at which its verdict stands beside the values. A rule about equipment speaks on
 * the line of that piece, one about a space on the line of that space, one about the home on every line of the item.
 */
export type SpokenAt = Readonly<Record<string, readonly string[]>>

/**
 * A rule whose inputs do not take the home cannot depend on other equipment; one that takes it and does not say what it
 * looks at may depend on any.
 */
function watchesOf(rule: {
  watches?: readonly EquipmentKind[] | null
  inputs: (...given: never[]) => unknown
}): readonly EquipmentKind[] | null {
  if (rule.watches !== undefined) return rule.watches
  return rule.inputs.length < 2 ? [] : null
}

export function joinEquipmentRule(rule: AnyEquipmentRule): JoinedRule<Equipment> & { kind: EquipmentKind } {
  const { id, title, kind, installedOn } = rule
  const judge: JoinedRule<Equipment>['judge'] = (subject, home, context, contexts) => {
    // Rules are filed by kind, so a rule is only ever handed its own kind.
    const inputs = rule.inputs(subject as never, home)
    const day = installedOn?.(inputs)
    return rule.judge(inputs, day ? contexts.of({ installedOn: day }) : context)
  }
  return { id, title, kind, watches: watchesOf(rule), judge }
}

export function joinSpaceRule<Inputs>(rule: SpaceRule<Inputs>): JoinedRule<Space> {
  const { id, title } = rule
  return {
    id,
    title,
    watches: watchesOf(rule),
    judge: (space, home, context) => {
      const inputs = rule.inputs(space, home)
      return inputs === null ? null : rule.judge(inputs, context)
    },
  }
}

export function joinHomeRule<Inputs>(rule: HomeRule<Inputs>): JoinedHomeRule {
  const { id, title, watches, installedOn } = rule
  return {
    id,
    title,
    watches,
    judge: (home, contexts) => {
      const inputs = rule.inputs(home)
      return rule.judge(inputs, contexts.of({ installedOn: installedOn?.(inputs) ?? null }))
    },
  }
}

export function joinReadingRule<Readings, Inputs>(rule: ReadingRule<Readings, Inputs>): JoinedReadingRule {
  const { id, title } = rule
  return {
    id,
    title,
    // Readings were validated against the item's fields before they come here.
    judge: (readings, subject, home, context) =>
      rule.judge(rule.inputs(readings as Readings, subject, home), context),
  }
}

/** Files joined rules by what they judge. Throws when two rules share an id: verdicts are found by it. */
export function ruleSet(rules: {
  equipment?: readonly (JoinedRule<Equipment> & { kind: EquipmentKind })[]
  spaces?: readonly JoinedRule<Space>[]
  homes?: readonly JoinedHomeRule[]
  readings?: readonly JoinedReadingRule[]
  spokenAt?: SpokenAt
}): RuleSet {
  const { equipment = [], spaces = [], homes = [], readings = [], spokenAt = {} } = rules
  const ids = [...equipment, ...spaces, ...homes, ...readings].map((rule) => rule.id)
  const twice = ids.find((id, index) => ids.indexOf(id) !== index)
  if (twice) throw new Error(`two rules are called ${twice}`)
  const kinds = Object.keys(EQUIPMENT_KINDS) as EquipmentKind[]
  const byKind = kinds.map((kind) => [kind, equipment.filter((rule) => rule.kind === kind)] as const)
  return { equipment: new Map(byKind), spaces, homes, readings, spokenAt }
}
