import { type Day, day } from '../../trade/dates.ts'
import { isPastItsDate } from '../../trade/follow-ups/date-to-pass.ts'
import { puttingOff } from '../../trade/follow-ups/putting-off.ts'
import { dayInWords } from '../../trade/day-in-words.ts'
import { groupBy } from '../follow-ups/group.ts'
import { sentenceOf } from '../messages/facts.ts'
import { type Act, actsOn } from './acts.ts'
import { type AskAbout, askForm, subjectOf, textOf, type Typed } from './ask.ts'
import { formId, type Visitor } from './entry.ts'
import { addressOf } from '../properties/address.ts'
import { leftHomes } from './not-mine.ts'
import { listOpen, type ShownFollowUp } from './store.ts'
import { TITLES } from '../../trade/follow-ups/titles.ts'
import { fill } from './words.ts'

/** Something on the page was wrong: said, with what was filled in. */
export interface Wrong {
  fault: string
  /** The thing that the form was about; null for other forms. */
  itemId: string | null
  typed: Typed
}

/** Everything that is open at the homes of a link, and the forms to answer it with. */
export async function dueFacts(visitor: Visitor, wrong: Wrong | null = null) {
  const { ctx, homes, words, base } = visitor
  const [open, left] = await Promise.all([
    listOpen(
      ctx.db,
      homes.map(({ id }) => id),
    ),
    leftHomes(visitor),
  ])
  const byHome = groupBy(open, (each) => each.propertyId)
  return {
    title: homes.length > 1 ? words.dueTitleMany : words.dueTitle,
    isEmpty: open.length === 0,
    fault: wrong?.fault ?? null,
    left: left.map(({ id, said }) => ({ address: said.address, action: `${base}/answers/${id}/take-back` })),
    homes: await Promise.all(homes.map((home) => homeFacts(visitor, home, byHome.get(home.id) ?? [], wrong))),
  }
}

async function homeFacts(
  visitor: Visitor,
  home: Visitor['homes'][number],
  open: readonly ShownFollowUp[],
  wrong: Wrong | null,
) {
  const { ctx, link, words } = visitor
  const today = ctx.today(home.timeZone)
  const about = open.map((each): AskAbout => ({
    id: each.id,
    title: TITLES[each.kind][link.language],
    subject: subjectOf(each, link.language) || addressOf(home),
    checked: each.state !== 'booked' && each.state !== 'asked' && each.kind !== 'self-test-tips',
  }))
  return {
    propertyId: home.id,
    address: addressOf(home),
    items: open.map((each) => itemOf(visitor, each, today, wrong?.itemId === each.id ? wrong.typed : null)),
    ask: await askForm(visitor, home.id, about, wrong?.typed ?? null),
    newId: formId(),
    whys: Object.entries(words.notMineWhys).map(([value, said]) => ({ value, said })),
    isLeaving: wrong?.typed['property'] === home.id && !('days' in wrong.typed),
  }
}

function itemOf(visitor: Visitor, each: ShownFollowUp, today: Day, typed: Typed | null) {
  const { link, words, base } = visitor
  const isDanger = each.severity === 'unsafe'
  const dueOn = day(each.dueOn)
  const isPast = isPastItsDate({ kind: each.kind, dueOn }, today)
  return {
    id: each.id,
    title: TITLES[each.kind][link.language],
    sentence: sentenceOf(each, link.language),
    // Only a date of the thing itself can be past; that on which we meant to ask again means nothing to them.
    dueWords: isPast || each.dueOn >= today ? dayInWords(dueOn, link.language) : null,
    isOverdue: isPast,
    assumed: each.assumed,
    caution: isDanger ? words.danger : (words.caution[each.kind] ?? null),
    isDanger,
    estimateUrl: each.estimateCustomerId === link.customerId ? `${base}/estimates/${each.subjectId}` : null,
    status: statusOf(visitor, each, today),
    fault: typed && words.fault,
    acts: Object.fromEntries(
      actsOn(each.kind).map((act) => [
        act,
        formOf(visitor, each, today, act, typed?.['act'] === act ? typed : null),
      ]),
    ),
  }
}

/** One form about one thing, with what was filled in when it comes back with a fault. */
function formOf(visitor: Visitor, each: ShownFollowUp, today: Day, act: Act, typed: Typed | null) {
  const { words, link, base, form } = visitor
  const limits = puttingOff({ ...each, dueOn: day(each.dueOn) }, today)
  return {
    act,
    action: `${base}/items/${each.id}`,
    form,
    newId: formId(),
    open: typed !== null,
    today,
    typed: {
      manufacturedOn: textOf(typed?.['manufacturedOn']),
      on: textOf(typed?.['replacedOn'] ?? typed?.['on']) || today,
      isOther: typed !== null && typed['same'] !== 'yes',
      by: textOf(typed?.['by']),
      reason: textOf(typed?.['reason']),
      name: textOf(typed?.['name']),
    },
    caution: act === 'replaced' ? (words.replacedCaution[each.equipmentKind ?? ''] ?? null) : null,
    lengths: limits.choices.map(({ length, until }) => ({
      value: length,
      said: fill(words.lengths[length], { date: dayInWords(until, link.language) }),
    })),
    limitedBy: limits.limitedBy && words.limitedBy[limits.limitedBy],
    isDanger: each.severity === 'unsafe',
  }
}

function statusOf({ words, link }: Visitor, each: ShownFollowUp, today: Day): string | null {
  if (each.state === 'booked') return words.bookedAlready
  if (each.state === 'asked') return words.askedAlready
  if (each.snoozedUntil && each.snoozedUntil > today) {
    return fill(words.restingUntil, { date: dayInWords(day(each.snoozedUntil), link.language) })
  }
  return null
}
