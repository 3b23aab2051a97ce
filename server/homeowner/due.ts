import { type Day, day } from '../../trade/dates.ts'
import { dayInWords } from '../../trade/follow-ups/words.ts'
import { groupBy } from '../follow-ups/group.ts'
import { sentenceOf } from '../messages/facts.ts'
import { type AskAbout, askForm } from './ask.ts'
import { addressOf, formId, type Visitor } from './entry.ts'
import { listOpen, type ShownFollowUp } from './store.ts'
import { TITLES } from './titles.ts'

/** What the homeowner can do about a kind by themselves. */
const REPLACEABLE = new Set(['alarm-end-of-life', 'alarm-undated', 'surge-failed'])
const CHECKABLE = new Set(['surge-check', 'surge-after-event'])

/** Everything that is open at the homes of a link, and the forms to answer it with. */
export async function dueFacts(visitor: Visitor, fault: string | null = null) {
  const { ctx, link, homes, words } = visitor
  const byHome = groupBy(
    await listOpen(
      ctx.db,
      homes.map(({ id }) => id),
    ),
    (each) => each.propertyId,
  )
  return {
    title: homes.length > 1 ? words.dueTitleMany : words.dueTitle,
    isEmpty: byHome.size === 0,
    fault,
    homes: await Promise.all(
      homes.map(async (home) => {
        const open = byHome.get(home.id) ?? []
        const today = ctx.today(home.timeZone)
        const about = open.map((each): AskAbout => ({
          id: each.id,
          title: TITLES[each.kind][link.language],
          subject: each.label ?? addressOf(home),
          checked: each.state !== 'booked' && each.state !== 'asked',
        }))
        return {
          propertyId: home.id,
          address: addressOf(home),
          items: open.map((each) => itemOf(visitor, each, today)),
          ask: await askForm(visitor, home.id, about),
        }
      }),
    ),
  }
}

function itemOf({ link, words }: Visitor, each: ShownFollowUp, today: Day) {
  const isDanger = each.severity === 'unsafe'
  const isFinding = each.kind === 'open-finding'
  return {
    id: each.id,
    title: TITLES[each.kind][link.language],
    sentence: sentenceOf(each, link.language),
    dueWords: dayInWords(day(each.dueOn), link.language),
    isOverdue: each.dueOn < today,
    assumed: each.assumed,
    isDanger,
    status: statusOf(words, each, today, link.language),
    forms: {
      id: each.id,
      today,
      newId: formId(),
      replaced: REPLACEABLE.has(each.kind),
      battery: each.kind === 'alarm-battery',
      checked: CHECKABLE.has(each.kind),
      corrected: isFinding,
      snooze: !isDanger,
      decline: each.kind !== 'no-access-rebooking',
    },
  }
}

function statusOf(
  words: Visitor['words'],
  each: ShownFollowUp,
  today: Day,
  language: 'en' | 'es',
): string | null {
  if (each.state === 'booked') return words.bookedAlready
  if (each.state === 'asked') return words.askedAlready
  if (each.snoozedUntil && each.snoozedUntil > today) {
    return `${words.restingUntil} ${dayInWords(day(each.snoozedUntil), language)}.`
  }
  return null
}
