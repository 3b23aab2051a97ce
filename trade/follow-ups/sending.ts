import { type Day, daysBetween } from '../dates.ts'
import type { Policy } from './policy.ts'

/** A time of day at the home, `HH:MM`, 24 hours. */
export type TimeOfDay = string

/** From the first minute of the sending hours to the last; the closing minute itself is quiet. */
export function isSendingTime(time: TimeOfDay, { sendingHours }: Policy): boolean {
  const { from, to } = sendingHours
  return from <= to ? time >= from && time < to : time >= from || time < to
}

/** When a message of this moment may go out: now, later today, or on the next day. */
export function nextSendingTime(time: TimeOfDay, policy: Policy): { inDays: 0 | 1; at: TimeOfDay } {
  if (isSendingTime(time, policy)) return { inDays: 0, at: time }
  const { from } = policy.sendingHours
  return { inDays: time < from ? 0 : 1, at: from }
}

/** Whether two follow-ups of one home go out in one message. */
export function mayShareMessage(a: Day, b: Day, { groupWithinDays }: Policy): boolean {
  return Math.abs(daysBetween(a, b)) <= groupWithinDays
}

/** Whether one more message may go to a household on `today`, after those sent on these days. Visits do not count. */
export function capAllows(sentOn: readonly Day[], today: Day, { cap }: Policy): boolean {
  const recent = sentOn.filter((each) => each <= today && daysBetween(each, today) < cap.days)
  return recent.length < cap.messages
}
