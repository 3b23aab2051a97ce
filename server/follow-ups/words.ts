import type { Day } from '../../trade/dates.ts'
import { FOLLOW_UP_KINDS } from '../../trade/follow-ups/kinds.ts'
import { cadenceOf, type Policy } from '../../trade/follow-ups/policy.ts'
import { dayOfStep, noticeDue } from '../../trade/follow-ups/steps.ts'
import { nextStepOf } from './next-step.ts'
import { SPOKEN_SUBJECTS } from './spoken.ts'
import { dayInZone } from '../time.ts'
import type { CallOutcome, FollowUpSummary } from './schema.ts'
import type { WorklistRow } from './worklist-store.ts'

/** A row as the office reads it. */
export function summaryOf({ label, estimateNumber, ...row }: WorklistRow, policy: Policy): FollowUpSummary {
  const kind = FOLLOW_UP_KINDS[row.kind]
  const subject =
    label ?? (estimateNumber === null ? SPOKEN_SUBJECTS[kind.subjectKind] : `Estimate ${estimateNumber}`)
  const task = taskOf(row, policy)
  const { receiverId: _, overdueWhenSeen: __, ...known } = row
  return { ...known, kindTitle: kind.office, subject, task, next: nextStepOf(row, task, policy) }
}

/** What the office has to do for the latest notice: a call or a letter that nobody has made since. */
function taskOf(row: Omit<WorklistRow, 'label' | 'estimateNumber'>, policy: Policy): string | null {
  const day = row.lastStep === null ? null : dayOfStep(row.dueOn, row.lastStep)
  if (!day || row.closedAt || row.state === 'booked') return null
  const notice = noticeDue(row.dueOn, cadenceOf(policy, row.kind, row.severity), day, null)
  if (notice?.step !== row.lastStep) return null
  const task = notice.by.find((channel) => channel !== 'mail') ?? null
  return task === 'call' && hasSpokenSince(row, day) ? null : task
}

/** Where nobody answered, or somebody else did, the call is still to be made. */
const SPOKEN: readonly CallOutcome[] = ['reached', 'will-call-back', 'declined']

function hasSpokenSince(
  { lastCallAt, lastCallOutcome, timeZone }: Pick<WorklistRow, 'lastCallAt' | 'lastCallOutcome' | 'timeZone'>,
  day: Day,
): boolean {
  if (lastCallAt === null || !SPOKEN.includes(lastCallOutcome as CallOutcome)) return false
  return dayInZone(new Date(lastCallAt), timeZone) >= day
}
