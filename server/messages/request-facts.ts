import type { Day } from '../../trade/dates.ts'
import type { Language } from '../../trade/day-in-words.ts'
import { addressOf } from '../properties/address.ts'
import { instantAt, toDay } from '../time.ts'
import { timeInWords, weekdayInWords } from '../times-in-words.ts'
import type { RequestOfLetter } from './facts-store.ts'
import type { StoredMessage } from './sending-store.ts'

/** What somebody asked for, in their language. */
export function requestFacts(
  { context, language }: Pick<StoredMessage, 'context' | 'language'>,
  request: RequestOfLetter,
) {
  const { preferredDays, preferredTime, property } = request
  const days = preferredDays.map((each) => toDay(each))
  const { wish, visitOn, about } = context as RequestContext
  return {
    address: addressOf(property),
    reason:
      wish && visitOn ? WISHES[wish][language](weekdayInWords(visitOn, language)) : (about ?? []).join('; '),
    // Without a day, what they wrote says both in their own words.
    days: days.length > 0 ? days.map((each) => weekdayInWords(each, language)).join('; ') : preferredTime,
    time: days.length > 0 ? hoursInWords(preferredTime, days[0]!, property.timeZone, language) : '',
    isCancelling: wish === 'cancel',
    isMoving: wish === 'move',
  }
}

/** What was asked for on a page: to see to things, each a line in the person's language, or something about a visit. */
interface RequestContext {
  about?: readonly string[]
  wish?: keyof typeof WISHES
  visitOn?: Day
}

const WISHES = {
  cancel: {
    en: (day: string) => `To cancel the visit on ${day}`,
    es: (day: string) => `Cancelar la visita del ${day}`,
  },
  move: {
    en: (day: string) => `To move the visit on ${day}`,
    es: (day: string) => `Cambiar la visita del ${day}`,
  },
  again: {
    en: (day: string) => `Another visit instead of the one on ${day}`,
    es: (day: string) => `Otra visita en lugar de la del ${day}`,
  },
}

/** `08:00 – 10:00`, as a free time is written down, as people say it; other words as they are. */
function hoursInWords(text: string, on: Day, zone: string, language: Language): string {
  const hours = /^(\d{2}:\d{2}) – (\d{2}:\d{2})$/.exec(text)
  if (!hours) return text
  return hours
    .slice(1)
    .map((time) => timeInWords(instantAt(on, time, zone), zone, language))
    .join(' – ')
}
