import { type Day } from '../../trade/dates.ts'
import { dayInWords } from '../../trade/day-in-words.ts'
import type { Said, StoredAnswer } from './answer-store.ts'

const inWords = (value: string | null | undefined) => (value ? dayInWords(value as Day, 'en') : '')
const LEFT = { sold: 'they sold it', moved: 'they moved out', never: 'it was never theirs' } as const

/** What somebody said on their page, as the office reads it and says it on the phone. */
export function answerInWords({ act, said }: Pick<StoredAnswer, 'act' | 'said'>): string {
  const because = said.reason ? ` Their reason: ${said.reason}` : ''
  switch (act) {
    case 'replaced':
      return `“${said.label}” was replaced on ${inWords(said.on)} by one made on ${inWords(said.manufacturedOn)}.`
    case 'battery':
      return `The battery of “${said.label}” was changed on ${inWords(said.on)}.`
    case 'checked':
      return said.indicator === 'good'
        ? `They looked at “${said.label}” on ${inWords(said.on)}: it protects.`
        : `They looked at “${said.label}” on ${inWords(said.on)}: it shows nothing or a fault.`
    case 'corrected':
      return `“${said.label}” has been put right, they say: ${said.by}`
    case 'snooze':
      return `Asked not to be reminded until ${inWords(said.until)}.`
    case 'decline':
      return `${said.name} declined it.${because}`
    case 'estimate-accepted':
      return `${said.name} accepted estimate ${said.number} for ${said.total} with tax.`
    case 'estimate-declined':
      return `${said.name} declined estimate ${said.number}.${because}`
    case 'estimate-question':
      return `About estimate ${said.number} they ask: ${said.question}`
    case 'not-mine':
      return `The home is not theirs any more: ${said.why ? LEFT[said.why] : 'no reason given'}.`
  }
}

/** What is left for the office to do. Null = nothing: it is listed with what was looked at. */
export function officeTask({ act, said }: Pick<StoredAnswer, 'act' | 'said'>): string | null {
  switch (act) {
    case 'replaced':
      return 'Check the new date against the device on record; look at the device at the next visit.'
    case 'checked':
      return said.indicator === 'dark' ? 'Offer them a new surge protector.' : null
    case 'corrected':
      return said.isDanger
        ? 'Phone them: who did it? A hazard stays open until we have seen it ourselves.'
        : 'Look at it at the next visit.'
    case 'decline':
    case 'estimate-declined':
      return said.isDanger ? 'Phone them: somebody could get hurt.' : 'Nothing, unless you want to ask why.'
    case 'estimate-accepted':
      return said.isDanger
        ? 'Book the repair: it waits on Today. Phone them: what they left out could hurt somebody.'
        : 'Book the repair: it waits on Today.'
    case 'estimate-question':
      return 'Answer them by phone or e-mail.'
    case 'not-mine':
      return leftTask(said)
    case 'battery':
    case 'snooze':
      return null
  }
}

function leftTask({ isVisitBooked, why }: Said): string {
  const visit = isVisitBooked ? 'A visit is still booked there: phone them about it. ' : ''
  const sale = why === 'sold' ? ' and enter the day of the sale' : ''
  return `${visit}Name whoever lives there now${sale}; until then nobody is written to about this home.`
}

/** Acts that the office looks at. */
export const LOOKED_AT = [
  'replaced',
  'checked',
  'corrected',
  'decline',
  'not-mine',
  'estimate-accepted',
  'estimate-declined',
  'estimate-question',
] as const
