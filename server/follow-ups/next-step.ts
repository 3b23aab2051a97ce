import { addDays, type Day } from '../../trade/dates.ts'
import type { Channel } from '../../trade/follow-ups/kind.ts'
import { cadenceOf, type Policy } from '../../trade/follow-ups/policy.ts'
import { nextNotice, noticeDue } from '../../trade/follow-ups/steps.ts'
import type { FollowUpSummary } from './schema.ts'
import type { WorklistRow } from './worklist-store.ts'

type NextStep = FollowUpSummary['next']

/** What happens next about an open follow-up, so that nobody has to know the policy by heart. */
export function nextStepOf(
  row: Omit<WorklistRow, 'label' | 'estimateNumber'>,
  task: string | null,
  policy: Policy,
): NextStep {
  const { state, dueOn, overdueDays, lastStep, nextNoticeOn, snoozedUntil } = row
  const step = (how: NonNullable<NextStep>['how'], on: string | null = null): NextStep => ({
    how,
    on,
    overdueWhenSeen: null,
  })
  if (row.closedAt) return null
  if (state === 'booked') return step('booked')
  if (state === 'asked') return step('asked')
  if (row.receiverId === null) return step('nobody')
  const today = addDays(dueOn, overdueDays)
  if (snoozedUntil !== null && snoozedUntil > today) return step('rests', snoozedUntil)
  if (row.notArrived !== null) return step('call')
  // What had been overdue for long when it was written down is past the letters of its cadence.
  const isFresh = row.messagesSent === 0 && row.overdueWhenSeen > 0
  const now = (channel: Channel): NextStep => ({
    how: row.customerEmail === null && channel === 'mail' ? 'call' : channel,
    on: null,
    overdueWhenSeen: isFresh && channel !== 'mail' ? row.overdueWhenSeen : null,
  })
  if (task !== null) return now(task as Channel)
  const cadence = cadenceOf(policy, row.kind, row.severity)
  const isToBeLookedAt = nextNoticeOn !== null && nextNoticeOn <= today
  const due = isToBeLookedAt ? noticeDue(dueOn, cadence, today, lastStep) : null
  if (due) return now(channelOf(due.by))
  const next = nextNoticeOn === null ? null : nextNotice(dueOn, cadence, today, lastStep)
  if (!next) return step('nothing')
  const channel = channelOf(next.by)
  const on = nextNoticeOn! > today && nextNoticeOn! > next.on ? nextNoticeOn! : next.on
  return row.customerEmail === null && channel === 'mail' ? step('call') : step(channel, on as Day)
}

const channelOf = (by: readonly Channel[]): Channel => (by.includes('mail') ? 'mail' : by[0]!)
