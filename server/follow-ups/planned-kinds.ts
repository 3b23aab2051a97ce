import { day, daysBetween } from '../../trade/dates.ts'
import { FOLLOW_UP_KIND_IDS, type FollowUpKindId } from '../../trade/follow-ups/kind.ts'
import { cadenceOf, mannerOf, type Policy } from '../../trade/follow-ups/policy.ts'
import { opensOn } from '../../trade/follow-ups/steps.ts'
import { topicOf } from '../../trade/follow-ups/topics.ts'
import { type Severity, SEVERITIES } from '../../trade/verdict.ts'

/** The confirmation of a visit is written when it is booked; it needs no planning. */
export const PLANNED_KINDS = FOLLOW_UP_KIND_IDS.filter((kind) => kind !== 'visit-confirmation')

interface PlannedAt {
  kind: FollowUpKindId
  severity: Severity | null
}

/** Kinds about findings, whose severity may change their manner and notices, come once for each. */
export const PLANNED_AT = PLANNED_KINDS.flatMap((kind): PlannedAt[] =>
  kind === 'open-finding' || kind === 'make-safe-check'
    ? SEVERITIES.map((severity) => ({ kind, severity }))
    : [{ kind, severity: null }],
)

const SOME_DAY = day('2001-01-01')

/** What statements have to know of a kind: `opens` is in days from the due date to when it begins to speak. */
export function rowOf({ kind, severity }: PlannedAt, policy: Policy) {
  return {
    kind,
    severity: severity ?? '',
    preference: mannerOf(kind, severity).preference,
    topic: topicOf(kind),
    opens: daysBetween(SOME_DAY, opensOn(SOME_DAY, cadenceOf(policy, kind, severity))),
  }
}
