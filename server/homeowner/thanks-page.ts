import type { Day } from '../../trade/dates.ts'
import { dayInWords } from '../../trade/day-in-words.ts'
import { Problem } from '../errors.ts'
import type { Said, StoredAnswer } from './answer-store.ts'
import type { Visitor } from './entry.ts'
import { answerOf, mayTakeBack } from './take-back.ts'
import { fill, type ThanksFor } from './words.ts'

/** What happens now, after an answer: in the words of that very answer where it is known, and how to undo it. */
export async function thanksFacts(visitor: Visitor, what: string, answerId: string | null) {
  const { words, base, ctx } = visitor
  if (!Object.hasOwn(words.thanks, what)) throw new Problem('not-found', 'There is no such page.')
  const thanks = what as ThanksFor
  const given = answerId ? await answerOf(visitor, answerId) : null
  const facts = given ? factsOf(given.said, visitor) : {}
  const sentence = fill(words.thanks[thanks], facts)
  // An answer that has gone from its address leaves gaps.
  if (sentence.includes('{')) throw new Problem('not-found', 'There is no such page.')
  return {
    title: words.thanksTitle,
    words: sentence,
    next: given ? nextOf(visitor, given).map((each) => fill(each, facts)) : [],
    caution: cautionOf(visitor, thanks, given),
    takeBack: given && mayTakeBack(given, ctx.now()) ? `${base}/answers/${given.id}/take-back` : null,
    isCall: given?.act === 'replaced' || given?.act === 'battery' || given?.act === 'checked',
    mayAsk: thanks === 'failed' || thanks === 'declined-danger',
  }
}

/** Of an answer without one of them, its sentence has no such gap. */
function factsOf(said: Said, { link }: Visitor): Record<string, string> {
  const inWords = (value: string | null | undefined) => (value ? dayInWords(value as Day, link.language) : '')
  return {
    label: said.label ?? '',
    name: said.name ?? '',
    number: said.number === undefined ? '' : String(said.number),
    total: said.total ?? '',
    address: said.address ?? '',
    date: inWords(said.until ?? said.on),
    made: inWords(said.manufacturedOn),
    end: inWords(said.replaceBy),
  }
}

function nextOf({ words: { next } }: Visitor, { act, said }: StoredAnswer): string[] {
  switch (act) {
    case 'replaced':
      return [said.replaceBy ? next.replaced : next['replaced-undated']]
    case 'battery':
      return [next.battery]
    case 'checked':
      return said.indicator === 'good' ? [next.checked] : []
    case 'not-mine':
      return said.isVisitBooked ? [next['not-mine'], next['not-mine-visit']] : [next['not-mine']]
    default:
      return []
  }
}

/** Where somebody could still get hurt, it is said once more. */
function cautionOf(
  { words: { next } }: Visitor,
  thanks: ThanksFor,
  given: StoredAnswer | null,
): string | null {
  if (thanks === 'failed') return next.failed
  if (!given?.said.isDanger) return null
  return thanks === 'corrected' ? next.corrected : next.danger
}
