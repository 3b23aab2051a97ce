import type { Day } from '../../trade/dates.ts'
import type { FollowUpKindId } from '../../trade/follow-ups/kind.ts'
import { FOLLOW_UP_KINDS } from '../../trade/follow-ups/kinds.ts'
import { cadenceOf, type Policy } from '../../trade/follow-ups/policy.ts'
import { dayOfStep, noticeDue } from '../../trade/follow-ups/steps.ts'
import { dayInWords } from '../../trade/day-in-words.ts'
import { groupBy } from './group.ts'
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

interface Known {
  /** Everything open at the home. */
  atHome: readonly FollowUpSummary[]
  company: { name: string }
  /** Subject of the newest letter about it. */
  letter: string | null
  /** When they last said something about it on their page. */
  answeredAt: string | null
}

/** What to say on the phone, line by line, with what is known: who, what, since when, what was written, what to ask. */
export function phoneScript(row: FollowUpSummary, { atHome, company, letter, answeredAt }: Known): string[] {
  const lines = [
    `Good day, this is ${company.name}. Am I speaking with ${row.customerName ?? 'the owner of the home'}?`,
    `It is about ${row.line1} in ${row.city}. ${row.reason}`,
  ]
  if (row.severity === 'unsafe') {
    lines.push(
      'Please do not use that part until it is put right. Does what was done to make it safe still hold?',
      'If you smell burning, see sparks or feel a shock: everybody out of the house, and call 911.',
    )
  }
  if (row.messagesSent > 0 && row.messageSentAt) {
    const often = row.messagesSent === 1 ? 'once' : `${row.messagesSent} times`
    const about = letter ? `, “${letter}”` : ''
    lines.push(
      `We wrote to you ${often}, last on ${dayOfInstant(row.messageSentAt)}${about}. Did it reach you?`,
    )
  }
  if (answeredAt) lines.push(`On ${dayOfInstant(answeredAt)} you answered on your page. Is that still so?`)
  if (row.messageState === 'bounced' || row.notArrived !== null || row.customerEmail === null) {
    lines.push('Our mail does not reach you. Which e-mail address may we note down?')
  }
  const question = QUESTIONS[row.kind as FollowUpKindId]
  if (question) lines.push(question)
  const others = groupBy(
    atHome.filter((each) => each.id !== row.id),
    ({ kindTitle }) => kindTitle,
  )
  if (others.size > 0) {
    const named = [...others].map(([title, each]) => `${title} (${namesOf(each)})`)
    lines.push(`One visit could see to this as well: ${named.join('; ')}.`)
  }
  lines.push('When would a visit suit you?')
  return lines
}

const MOST_NAMED = 4
function namesOf(items: readonly FollowUpSummary[]): string {
  const names = items.slice(0, MOST_NAMED).map(({ subject }) => subject)
  const more = items.length > MOST_NAMED ? ` and ${items.length - MOST_NAMED} more` : ''
  return `${names.join('; ')}${more}`
}
const dayOfInstant = (instant: string) => dayInWords(instant.slice(0, 10) as Day, 'en')

/** What the office cannot know from here. */
const QUESTIONS: Partial<Record<FollowUpKindId, string>> = {
  'alarm-end-of-life': 'Has it been replaced? If not: does it sound when you press its test button?',
  'alarm-undated': 'Is a date printed on its back? Does it sound when you press its test button?',
  'alarm-battery': 'Has the battery been changed? Does the alarm sound when you press its test button?',
  'surge-check': 'Looking from outside only: is its lamp or window lit, usually green?',
  'surge-after-event': 'Looking from outside only: is its lamp or window lit, usually green?',
  'surge-failed': 'Has it been replaced, and by whom? Please do not open the panel.',
  'open-finding': 'Has it been put right, and by whom?',
  'make-safe-check': 'Have you read our warning, and does everybody who lives there know of it?',
  'estimate-unanswered': 'Is there anything in our estimate that you would like explained?',
  're-inspection': 'Has anything been altered in the electrical installation since we were there?',
  'no-access-rebooking': 'When is somebody at home?',
}
