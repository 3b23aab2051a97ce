import type { Day } from '../../trade/dates.ts'
import { findEquipment, spaceOf } from '../../trade/home.ts'
import type { Answer } from '../../trade/inspection/records.ts'
import { RULES } from '../../trade/rules.ts'
import type { Verdict } from '../../trade/verdict.ts'
import { contextsFor } from '../../trade/whole-home/context.ts'
import { isVerdict } from '../../trade/whole-home/evaluate.ts'
import { judgeReadings } from '../../trade/whole-home/judge-readings.ts'
import { asHome, type HomeRecord, jurisdictionOf, type Needed } from './home-store.ts'

type Line = Pick<Answer, 'itemId' | 'subjectKind' | 'subjectId' | 'readings'>

/**
 * What the rules say on one line: about its subject, about the home where the item speaks for it, and about the readings
 * typed there. Only the rules that speak at the item are asked.
 */
export function judgeLine(record: HomeRecord, today: Day, line: Line): Verdict[] {
  const home = asHome(record)
  const jurisdiction = jurisdictionOf(record)
  const contexts = contextsFor(home.property, jurisdiction, today)
  const speaks = (rule: { id: string }) => RULES.spokenAt[rule.id]?.includes(line.itemId) ?? false
  const equipment = line.subjectKind === 'equipment' ? findEquipment(home, line.subjectId) : null
  const space = line.subjectKind === 'space' ? spaceOf(home, { spaceId: line.subjectId }) : null
  const context = equipment ? contexts.of(equipment) : contexts.ofHome
  const place = space ?? (equipment && spaceOf(home, equipment))

  return [
    ...(equipment
      ? RULES.equipment
          .get(equipment.kind)!
          .filter(speaks)
          .map((rule) => rule.judge(equipment, home, context, contexts))
      : []),
    ...(space ? RULES.spaces.filter(speaks).map((rule) => rule.judge(space, home, context, contexts)) : []),
    ...judgeReadings({ id: line.itemId }, line.readings, { space: place }, home, jurisdiction, today),
    ...RULES.homes.filter(speaks).flatMap((rule) => rule.judge(home, contexts)),
  ].filter(isVerdict)
}

/** What of a home the rules look at that speak on this line, besides the room or the piece it is about. */
export function neededFor({ itemId, subjectId }: Pick<Line, 'itemId' | 'subjectId'>): Needed {
  const speaks = (rule: { id: string }) => RULES.spokenAt[rule.id]?.includes(itemId) ?? false
  // What a rule about readings looks at in the home, it does not say.
  if (RULES.readings.some(speaks)) return 'all'
  const rules = [...[...RULES.equipment.values()].flat(), ...RULES.spaces, ...RULES.homes].filter(speaks)
  if (rules.length === 0 && subjectId === null) return 'property'
  const watched = rules.map((rule) => rule.watches)
  if (watched.includes(null)) return 'all'
  return { kinds: [...new Set(watched.flatMap((kinds) => kinds ?? []))], id: subjectId }
}

/** The severity that a rule proposes at a subject; null when it proposes none. */
export function severityProposed(verdicts: readonly Verdict[], rule: string | null) {
  const verdict = verdicts.find((each) => each.rule === rule && each.outcome === 'finding')
  return verdict?.outcome === 'finding' ? verdict.severity : null
}
