import type { Day } from '../../trade/dates.ts'
import { cadenceOf } from '../../trade/follow-ups/policy.ts'
import { nextNotice } from '../../trade/follow-ups/steps.ts'
import type { Change, OpenFollowUp } from './household.ts'
import type { Given } from './notice-of-today.ts'

// Where a follow-up stands after a day on which it was looked at.

export const unchanged = ({ id, lastStep, nextNoticeOn, state }: OpenFollowUp): Change => ({
  id,
  lastStep,
  nextNoticeOn,
  state,
  closedReason: null,
})
export const ended = (followUp: OpenFollowUp): Change => ({ ...unchanged(followUp), nextNoticeOn: null })

/** After a step was given, and never before the day after today: a follow-up speaks once a day at most. */
export function moved(
  followUp: OpenFollowUp,
  given: Given,
  step: string | null,
  state: OpenFollowUp['state'],
  stepOn?: Day,
): Change {
  const { dueOn, kind, severity, zone } = followUp
  const today = given.today(zone)
  const after = stepOn && stepOn > today ? stepOn : today
  const next = nextNotice(dueOn, cadenceOf(given.policy, kind, severity), after, step)
  return { ...unchanged(followUp), lastStep: step, nextNoticeOn: next?.on ?? null, state }
}
