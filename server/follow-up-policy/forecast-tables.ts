import { addDays, day } from '../../trade/dates.ts'
import { FOLLOW_UP_KINDS, restsWhileBooked } from '../../trade/follow-ups/kinds.ts'
import { cadenceOf, type Policy } from '../../trade/follow-ups/policy.ts'
import { PLANNED_AT, rowOf } from '../follow-ups/planned-kinds.ts'

/** Repeats of a notice that a month can hold, however long ago it fell due. */
const REPEATS = 40
const SOME_DAY = day('2001-01-01')

/** Each kind, by severity where that matters: when it begins to speak, to whom, and what may hold it back. */
export function kindRows(policy: Policy) {
  return PLANNED_AT.map((at) => ({
    ...rowOf(at, policy),
    payer: FOLLOW_UP_KINDS[at.kind].tells === 'payer',
    rests: restsWhileBooked(at.kind),
  }))
}

/** Every notice of every kind, as days or months from the due date. */
export function stepRows(policy: Policy) {
  return PLANNED_AT.flatMap(({ kind, severity }) => {
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
  })
}
