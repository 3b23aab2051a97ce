import type { Item } from '../checklist/item.ts'
import type { Day } from '../dates.ts'
import type { Home } from '../home.ts'
import type { Space } from '../property.ts'
import { RULES } from '../rules.ts'
import type { Verdict } from '../verdict.ts'
import { contextsFor, type Jurisdiction } from './context.ts'
import type { RuleSet } from './rule-set.ts'

/**
 * Verdicts about readings as they are typed at an item, in its space where it has one. `readings` were validated
 * against the item's fields.
 */
export function judgeReadings(
  item: Pick<Item, 'id'>,
  readings: Readonly<Record<string, unknown>>,
  subject: { space: Space | null },
  home: Home,
  jurisdiction: Jurisdiction,
  today: Day,
  rules: RuleSet = RULES,
): Verdict[] {
  const context = contextsFor(home.property, jurisdiction, today).ofHome
  return rules.readings
    .filter((rule) => rules.spokenAt[rule.id]?.includes(item.id))
    .map((rule) => rule.judge(readings, subject, home, context))
}
