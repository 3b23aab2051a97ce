import type { RuleContext } from '../editions.ts'
import type { Equipment, EquipmentKind } from '../equipment.ts'
import { findEquipment, type Home, inUse } from '../home.ts'
import type { Contexts } from './context.ts'
import { evaluateHome, type HomeVerdicts, judgeSubject, type Slots } from './evaluate.ts'
import type { JoinedRule } from './rule-set.ts'

/**
 * The verdicts after a change to some pieces of equipment, computed anew only where they can differ: the changed pieces
 * themselves, and every rule that watches their kinds. Gives what `evaluateHome` would give for `changedHome`.
 *
 * `changedIds` names every piece that was added, changed, retired or removed. A change of the property, or of a space,
 * touches everything and is computed whole.
 */
export function reevaluate(
  previous: HomeVerdicts,
  changedHome: Home,
  changedIds: readonly string[],
): HomeVerdicts {
  const { jurisdiction, today, rules, contexts } = previous
  if (previous.home.property !== changedHome.property || previous.home.spaces !== changedHome.spaces) {
    return evaluateHome(changedHome, jurisdiction, today, rules)
  }
  const changed = new Set(changedIds)
  const kinds = kindsOf(changed, previous.home, changedHome)

  const equipment = new Map<string, Slots>()
  for (const [kind, kindRules] of rules.equipment) {
    const again = touchedOf(kindRules, kinds)
    for (const each of inUse(changedHome, kind) as readonly unknown[] as readonly Equipment[]) {
      const before = changed.has(each.id) ? undefined : previous.equipment.get(each.id)
      const slots = before
        ? renew(before, again, each, changedHome, contexts.of(each), contexts)
        : judgeSubject(kindRules, each, changedHome, contexts.of(each), contexts)
      equipment.set(each.id, slots)
    }
  }
  const spaces = new Map<string, Slots>()
  const again = touchedOf(rules.spaces, kinds)
  for (const space of changedHome.spaces) {
    const before = previous.spaces.get(space.id)!
    spaces.set(space.id, renew(before, again, space, changedHome, contexts.ofHome, contexts))
  }
  const homes = rules.homes.map((rule, i) =>
    isTouched(rule, kinds) ? rule.judge(changedHome, contexts) : previous.homes[i]!,
  )
  return { ...previous, home: changedHome, equipment, spaces, homes }
}

/** A rule that has to judge again, and where its verdict stands. */
interface Touched<Subject> {
  slot: number
  rule: JoinedRule<Subject>
}

function isTouched(
  { watches }: { watches: readonly EquipmentKind[] | null },
  kinds: ReadonlySet<EquipmentKind>,
): boolean {
  return watches === null || watches.some((kind) => kinds.has(kind))
}

function touchedOf<Subject>(
  rules: readonly JoinedRule<Subject>[],
  kinds: ReadonlySet<EquipmentKind>,
): Touched<Subject>[] {
  return rules.flatMap((rule, slot) => (isTouched(rule, kinds) ? [{ slot, rule }] : []))
}

function renew<Subject>(
  before: Slots,
  again: readonly Touched<Subject>[],
  subject: Subject,
  home: Home,
  context: RuleContext,
  contexts: Contexts,
): Slots {
  if (again.length === 0) return before
  const slots = [...before]
  for (const { slot, rule } of again) slots[slot] = rule.judge(subject, home, context, contexts)
  return slots
}

/** The kinds that the changed pieces had before and have now. */
function kindsOf(changed: ReadonlySet<string>, ...homes: readonly Home[]): ReadonlySet<EquipmentKind> {
  return new Set(homes.flatMap((home) => [...changed].flatMap((id) => findEquipment(home, id)?.kind ?? [])))
}
