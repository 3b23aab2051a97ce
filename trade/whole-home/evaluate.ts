import type { Day } from '../dates.ts'
import type { RuleContext } from '../editions.ts'
import type { Equipment } from '../equipment.ts'
import { type Home, inUse } from '../home.ts'
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
  contexts: Contexts,
): Slots {
  return rules.map((rule) => rule.judge(subject, home, context, contexts))
}

/** Rule after rule over all subjects of one sort, which is quicker than subject after subject: the code stays warm. */
function judgeAll<Subject>(
  rules: readonly JoinedRule<Subject>[],
  subjects: readonly Subject[],
  home: Home,
  contexts: Contexts,
  contextOf: (subject: Subject) => RuleContext,
): Slots[] {
  const slots = subjects.map((): (Verdict | null)[] => [])
  const own = subjects.map(contextOf)
  for (const rule of rules) {
    for (let i = 0; i < subjects.length; i += 1) {
      slots[i]!.push(rule.judge(subjects[i]!, home, own[i]!, contexts))
    }
  }
  return slots
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
  for (const [kind, kindRules] of rules.equipment) {
    const pieces = inUse(home, kind) as readonly unknown[] as readonly Equipment[]
    judgeAll(kindRules, pieces, home, contexts, contexts.of).forEach((slots, i) =>
      equipment.set(pieces[i]!.id, slots),
    )
  }
  const spaces = new Map<string, Slots>()
  judgeAll(rules.spaces, home.spaces, home, contexts, () => contexts.ofHome).forEach((slots, i) =>
    spaces.set(home.spaces[i]!.id, slots),
  )
  const homes = rules.homes.map((rule) => rule.judge(home, contexts))
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
  const contexts = contextsFor(home.property, jurisdiction, today)
  const kindRules = rules.equipment.get(equipment.kind)!
  return judgeSubject(kindRules, equipment, home, contexts.of(equipment), contexts).filter(isVerdict)
}

/** Verdicts about one space as it is recorded. */
export function judgeSpace(
  home: Home,
  space: Space,
  jurisdiction: Jurisdiction,
  today: Day,
  rules: RuleSet = RULES,
): Verdict[] {
  const contexts = contextsFor(home.property, jurisdiction, today)
  return judgeSubject(rules.spaces, space, home, contexts.ofHome, contexts).filter(isVerdict)
}

export function isVerdict(verdict: Verdict | null): verdict is Verdict {
  return verdict !== null
}
