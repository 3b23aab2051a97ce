import type { Day } from '../../trade/dates.ts'
import { findEquipment, spaceOf } from '../../trade/home.ts'
import type { Answer } from '../../trade/inspection/records.ts'
import { RULES } from '../../trade/rules.ts'
import type { Verdict } from '../../trade/verdict.ts'
import { contextsFor } from '../../trade/whole-home/context.ts'
import { isVerdict } from '../../trade/whole-home/evaluate.ts'
import { judgeReadings } from '../../trade/whole-home/judge-readings.ts'
import { remembered } from '../remembered.ts'
import { asHome, type HomeRecord, jurisdictionOf } from './home-store.ts'

/** Of all rules those that speak at an item. Rules do not change while a process runs. */
const speakingAt = remembered((itemId) => {
  const speaks = (rule: { id: string }) => RULES.spokenAt[rule.id]?.includes(itemId) ?? false
  return {
    equipment: new Map([...RULES.equipment].map(([kind, rules]) => [kind, rules.filter(speaks)])),
    spaces: RULES.spaces.filter(speaks),
    homes: RULES.homes.filter(speaks),
  }
})

type Line = Pick<Answer, 'itemId' | 'subjectKind' | 'subjectId' | 'readings'>

/**
 * What the rules say on one line: about its subject, about the home where the item speaks for it, and about the readings
 * typed there. Only the rules that speak at the item are asked.
 */
export function judgeLine(record: HomeRecord, today: Day, line: Line): Verdict[] {
  const home = asHome(record)
  const jurisdiction = jurisdictionOf(record)
  const contexts = contextsFor(home.property, jurisdiction, today)
  const rules = speakingAt(line.itemId)
  const equipment = line.subjectKind === 'equipment' ? findEquipment(home, line.subjectId) : null
  const space = line.subjectKind === 'space' ? spaceOf(home, { spaceId: line.subjectId }) : null
  const context = equipment ? contexts.of(equipment) : contexts.ofHome
  const place = space ?? (equipment && spaceOf(home, equipment))

  return [
    ...(equipment
      ? rules.equipment.get(equipment.kind)!.map((rule) => rule.judge(equipment, home, context, contexts))
      : []),
    ...(space ? rules.spaces.map((rule) => rule.judge(space, home, context, contexts)) : []),
    ...judgeReadings({ id: line.itemId }, line.readings, { space: place }, home, jurisdiction, today),
    ...rules.homes.flatMap((rule) => rule.judge(home, contexts)),
  ].filter(isVerdict)
}

/** The severity that a rule proposes at a subject; null when it proposes none. */
export function severityProposed(verdicts: readonly Verdict[], rule: string | null) {
  const verdict = verdicts.find((each) => each.rule === rule && each.outcome === 'finding')
  return verdict?.outcome === 'finding' ? verdict.severity : null
}
