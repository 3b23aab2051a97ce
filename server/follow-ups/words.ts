import { FOLLOW_UP_KINDS } from '../../trade/follow-ups/kinds.ts'
import { cadenceOf, type Policy } from '../../trade/follow-ups/policy.ts'
import { dayOfStep, noticeDue } from '../../trade/follow-ups/steps.ts'
import { dayInWords } from '../../trade/follow-ups/words.ts'
import { SPOKEN_SUBJECTS } from './spoken.ts'
import type { FollowUpSummary } from './schema.ts'
import type { WorklistRow } from './worklist-store.ts'

/** A row as the office reads it. */
export function summaryOf(
  { receiverId: _, label, estimateNumber, ...row }: WorklistRow,
  policy: Policy,
): FollowUpSummary {
  const kind = FOLLOW_UP_KINDS[row.kind]
  const subject =
    label ?? (estimateNumber === null ? SPOKEN_SUBJECTS[kind.subjectKind] : `Estimate ${estimateNumber}`)
  return { ...row, kindTitle: kind.office, subject, task: taskOf(row, policy) }
}

/** What the office has to do for the latest notice: a call or a letter that nobody has made since. */
function taskOf(
  row: Pick<WorklistRow, 'kind' | 'severity' | 'dueOn' | 'lastStep' | 'lastCallAt' | 'closedAt' | 'state'>,
  policy: Policy,
): string | null {
  const day = row.lastStep === null ? null : dayOfStep(row.dueOn, row.lastStep)
  if (!day || row.closedAt || row.state === 'booked') return null
  const notice = noticeDue(row.dueOn, cadenceOf(policy, row.kind, row.severity), day, null)
  if (notice?.step !== row.lastStep) return null
  const task = notice.by.find((channel) => channel !== 'mail') ?? null
  return task === 'call' && row.lastCallAt !== null && row.lastCallAt.slice(0, 10) >= day ? null : task
}

/** What to say on the phone, line by line, with what is known. */
export function phoneScript(
  row: FollowUpSummary,
  atHome: readonly FollowUpSummary[],
  company: { name: string },
): string[] {
  const others = atHome.filter((each) => each.id !== row.id)
  const lines = [
    `Good day, this is ${company.name}. Am I speaking with ${row.customerName ?? 'the owner of the home'}?`,
    `It is about ${row.line1} in ${row.city}. ${row.reason}`,
  ]
  if (row.severity === 'unsafe') {
    lines.push(
      'Please do not use that part until it is put right. Does what was done to make it safe still hold?',
    )
  }
  if (row.messagesSent > 0 && row.messageSentAt) {
    const day = dayInWords(row.messageSentAt.slice(0, 10) as never, 'en')
    lines.push(
      `We wrote to you ${row.messagesSent === 1 ? 'once' : `${row.messagesSent} times`}, last on ${day}. Did it reach you?`,
    )
  }
  if (row.messageState === 'bounced' || row.customerEmail === null) {
    lines.push('Our mail does not reach you. Which e-mail address may we note down?')
  }
  if (others.length > 0) {
    const names = [...new Set(others.map(({ kindTitle, subject }) => `${kindTitle} (${subject})`))].slice(
      0,
      5,
    )
    lines.push(`One visit could see to this as well: ${names.join('; ')}.`)
  }
  lines.push('When would a visit suit you?')
  return lines
}
