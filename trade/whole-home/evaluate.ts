import type { Day } from '../dates.ts'
import type { RuleContext } from '../editions.ts'
import type { Equipment } from '../equipment.ts'
import type { Home } from '../home.ts'
import type { Space } from '../property.ts'
import { RULES } from '../rules.ts'
import type { Verdict } from '../verdict.ts'
import { type Contexts, contextsFor, type Jurisdiction } from './context.ts'
import type { JoinedRule, RuleSet } from './rule-set.ts'

/** Verdict per rule, in the order of the rules for that subject; null where a rule has nothing to say. */
export type Slots = readonly (Verdict | null)[]

/** Every verdict about a home on a day, and what it was computed from. */
export interface HomeVerdicts {
  home: Home
  jurisdiction: Jurisdiction
  today: Day
  rules: RuleSet
  contexts: Contexts
  /** By equipment id; retired equipment is not judged. */
  equipment: ReadonlyMap<string, Slots>
  /** By space id. */
  spaces: ReadonlyMap<string, Slots>
  /** Per rule about the home, in the order of those rules. */
  homes: readonly (readonly Verdict[])[]
}

export function judgeSubject<Subject>(
  rules: readonly JoinedRule<Subject>[],
  subject: Subject,
  home: Home,
  context: RuleContext,
): Slots {
  return rules.map((rule) => rule.judge(subject, home, context))
}

/** Every verdict of every rule. A new `home` object is needed after each change: what was gathered from it is kept. */
export function evaluateHome(
  home: Home,
  jurisdiction: Jurisdiction,
  today: Day,
  rules: RuleSet = RULES,
): HomeVerdicts {
  const contexts = contextsFor(home.property, jurisdiction, today)
  const equipment = new Map<string, Slots>()
  for (const each of home.equipment) {
    if (each.retiredOn) continue
    equipment.set(each.id, judgeSubject(rules.equipment.get(each.kind)!, each, home, contexts.of(each)))
  }
  const spaces = new Map<string, Slots>()
  for (const space of home.spaces) {
    spaces.set(space.id, judgeSubject(rules.spaces, space, home, contexts.ofHome))
  }
  const homes = rules.homes.map((rule) => rule.judge(home, contexts.ofHome))
  return { home, jurisdiction, today, rules, contexts, equipment, spaces, homes }
}

/** Verdicts about one piece as it is being typed; it need not be in the home yet. */
export function judgeEquipment(
  home: Home,
  equipment: Equipment,
  jurisdiction: Jurisdiction,
  today: Day,
  rules: RuleSet = RULES,
): Verdict[] {
  const context = contextsFor(home.property, jurisdiction, today).of(equipment)
  return judgeSubject(rules.equipment.get(equipment.kind)!, equipment, home, context).filter(isVerdict)
}

/** Verdicts about one space as it is recorded. */
export function judgeSpace(
  home: Home,
  space: Space,
  jurisdiction: Jurisdiction,
  today: Day,
  rules: RuleSet = RULES,
): Verdict[] {
  const context = contextsFor(home.property, jurisdiction, today).ofHome
  return judgeSubject(rules.spaces, space, home, context).filter(isVerdict)
}

export function isVerdict(verdict: Verdict | null): verdict is Verdict {
  return verdict !== null
}
