import type { RuleContext } from '../editions.ts'
import type { EquipmentKind } from '../equipment.ts'
import { findEquipment, type Home } from '../home.ts'
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
  const isTouched = (rule: { watches: readonly EquipmentKind[] | null }) =>
    rule.watches === null || rule.watches.some((kind) => kinds.has(kind))

  const again = <Subject>(
    list: readonly JoinedRule<Subject>[],
    subject: Subject,
    before: Slots,
    context: RuleContext,
  ): Slots =>
    list.some(isTouched)
      ? list.map((rule, i) => (isTouched(rule) ? rule.judge(subject, changedHome, context) : before[i]!))
      : before

  const equipment = new Map<string, Slots>()
  for (const each of changedHome.equipment) {
    if (each.retiredOn) continue
    const list = rules.equipment.get(each.kind)!
    const before = changed.has(each.id) ? undefined : previous.equipment.get(each.id)
    const context = contexts.of(each)
    equipment.set(
      each.id,
      before ? again(list, each, before, context) : judgeSubject(list, each, changedHome, context),
    )
  }
  const spaces = new Map<string, Slots>()
  for (const space of changedHome.spaces) {
    spaces.set(space.id, again(rules.spaces, space, previous.spaces.get(space.id)!, contexts.ofHome))
  }
  const homes = rules.homes.map((rule, i) =>
    isTouched(rule) ? rule.judge(changedHome, contexts.ofHome) : previous.homes[i]!,
  )
  return { ...previous, home: changedHome, equipment, spaces, homes }
}

/** The kinds that the changed pieces had before and have now. */
function kindsOf(changed: ReadonlySet<string>, ...homes: readonly Home[]): ReadonlySet<EquipmentKind> {
  const kinds = homes.flatMap((home) => [...changed].map((id) => findEquipment(home, id)?.kind))
  return new Set(kinds.filter((kind) => kind !== undefined))
}
