import type { Day } from '../../trade/dates.ts'
import { addDays, daysBetween } from '../../trade/dates.ts'
import { FOLLOW_UP_KINDS } from '../../trade/follow-ups/kinds.ts'
import { cadenceOf, mannerOf, type Policy } from '../../trade/follow-ups/policy.ts'
import { opensOn } from '../../trade/follow-ups/steps.ts'
import { topicOf } from '../../trade/follow-ups/topics.ts'
import { SEVERITIES } from '../../trade/verdict.ts'
import { PLANNED_KINDS } from '../follow-ups/plan-store.ts'

/** Repeats of a notice that a month can hold, however long ago it fell due. */
const REPEATS = 40

function severitiesOf(kind: string) {
  return kind === 'open-finding' || kind === 'make-safe-check' ? SEVERITIES : ([null] as const)
}

const SOME_DAY = '2001-01-01' as Day

/** Each kind, by severity where that matters: when it begins to speak, to whom, and what may hold it back. */
export function kindRows(policy: Policy) {
  return PLANNED_KINDS.flatMap((kind) =>
    severitiesOf(kind).map((severity) => ({
      kind,
      severity: severity ?? '',
      preference: mannerOf(kind, severity).preference,
      topic: topicOf(kind),
      payer: FOLLOW_UP_KINDS[kind].tells === 'payer',
      rests: FOLLOW_UP_KINDS[kind].stops.some(({ when, effect }) => when === 'booked' && effect === 'hold'),
      opens: daysBetween(SOME_DAY, opensOn(SOME_DAY, cadenceOf(policy, kind, severity))),
    })),
  )
}

/** Every notice of every kind, as days or months from the due date. */
export function stepRows(policy: Policy) {
  return PLANNED_KINDS.flatMap((kind) =>
    severitiesOf(kind).flatMap((severity) => {
      const { steps, then } = cadenceOf(policy, kind, severity)
      const row = (days: number, months: number, by: readonly string[]) => ({
        ...{ kind, severity: severity ?? '', days, months },
        mail: by.includes('mail'),
      })
      const last = Math.max(...steps.map(({ days }) => days))
      const repeats = Array.from({ length: then ? REPEATS : 0 }, (_, n) => then!.every * (n + 1))
        .map((count) => (then!.unit === 'days' ? row(count, 0, then!.by) : row(0, count, then!.by)))
        .filter(({ days, months }) => addDays(SOME_DAY, days + months * 30) > addDays(SOME_DAY, last))
      return [...steps.map(({ days, by }) => row(days, 0, by)), ...repeats]
    }),
  )
}
