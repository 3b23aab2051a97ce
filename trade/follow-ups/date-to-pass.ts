import type { Day } from '../dates.ts'
import type { FollowUpKindId } from './kind.ts'

/** Those whose due date is one of the thing itself. That of the others is only the day on which we ask. */
const WITH_A_DATE: readonly FollowUpKindId[] = [
  'alarm-end-of-life',
  'alarm-battery',
  'surge-check',
  're-inspection',
]

/** Whether the people who live there are told that it is past its date. */
export function isPastItsDate({ kind, dueOn }: { kind: FollowUpKindId; dueOn: Day }, today: Day): boolean {
  return dueOn < today && WITH_A_DATE.includes(kind)
}
