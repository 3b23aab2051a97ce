import type { Day } from '../../trade/dates.ts'
import { dayInWords, type Language } from '../../trade/day-in-words.ts'
import type { FollowUpKindId } from '../../trade/follow-ups/kind.ts'
import { FOLLOW_UP_KINDS } from '../../trade/follow-ups/kinds.ts'
import type { Severity } from '../../trade/verdict.ts'
import { TITLES } from '../../trade/follow-ups/titles.ts'
import { dayInZone } from '../time.ts'
import { groupBy } from './group.ts'
import { SCRIPT, type ScriptWords } from './phone-words.ts'
import type { FollowUpSummary } from './schema.ts'

interface Known {
  /** Everything open at the home. */
  atHome: readonly FollowUpSummary[]
  company: { name: string }
  /** Subject of the newest letter about it. */
  letter: string | null
  /** When they last said something about it on their page. */
  answeredAt: string | null
  /** What the customer speaks. */
  language: Language
}

/** What to say on the phone, line by line, with what is known: who, what, since when, what was written, what to ask. */
export function phoneScript(row: FollowUpSummary, known: Known): string[] {
  const { atHome, company, letter, answeredAt, language } = known
  const words = SCRIPT[language]
  const dayOf = (instant: string) => dayInWords(dayInZone(new Date(instant), row.timeZone), language)
  const lines = [
    words.greeting(company.name, row.customerName ?? words.owner),
    words.about(row.line1, row.city, reasonIn(row, language)),
  ]
  if (row.severity === 'unsafe') lines.push(words.doNotUse, words.emergency)
  if (row.messagesSent > 0 && row.messageSentAt) {
    lines.push(words.written(row.messagesSent, dayOf(row.messageSentAt), letter))
  }
  if (answeredAt) lines.push(words.answered(dayOf(answeredAt)))
  const isOutOfReach = row.messageState === 'bounced' || row.notArrived !== null || row.customerEmail === null
  if (isOutOfReach) lines.push(words.noMail)
  const question = words.questions[row.kind as FollowUpKindId]
  if (question) lines.push(question)
  const others = groupBy(
    atHome.filter((each) => each.id !== row.id),
    ({ kind, kindTitle }) => (language === 'en' ? kindTitle : TITLES[kind as FollowUpKindId][language]),
  )
  if (others.size > 0) {
    const named = [...others].map(([title, each]) => `${title} (${namesOf(each, words)})`)
    lines.push(words.alsoSeenTo(named.join('; ')))
  }
  lines.push(words.when)
  return lines
}

/** Stored in English; in another language it is said anew from the same facts. */
function reasonIn({ kind, reason, dueOn, assumed, severity, subject }: FollowUpSummary, language: Language) {
  if (language === 'en') return reason
  const label = subject.replace(/^Estimate (?=\d)/, 'presupuesto ')
  const facts = { label, dueOn: dueOn as Day, assumed, severity: severity as Severity | null }
  return FOLLOW_UP_KINDS[kind as FollowUpKindId].reason(facts)[language]
}

const MOST_NAMED = 4
function namesOf(items: readonly FollowUpSummary[], words: ScriptWords): string {
  const names = items.slice(0, MOST_NAMED).map(({ subject }) => subject)
  const more = items.length > MOST_NAMED ? words.andMore(items.length - MOST_NAMED) : ''
  return `${names.join('; ')}${more}`
}
