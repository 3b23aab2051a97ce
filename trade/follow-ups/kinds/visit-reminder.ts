import { daysBetween } from '../../dates.ts'
import type { FollowUpVisit } from '../facts.ts'
import { ends, type FollowUpKind } from '../kind.ts'
import { dayInWords } from '../../day-in-words.ts'

/** The confirmation is fresh enough when the visit is only days away. */
const FRESH_DAYS = 3

export const visitReminder: FollowUpKind<FollowUpVisit> = {
  id: 'visit-reminder',
  subjectKind: 'visit',
  office: 'Visit reminder',
  concerns: 'Whoever has a visit coming that was not booked in the last days',
  tells: 'payer',
  category: 'relationship',
  preference: 'booking',
  urgency: 'soon',
  cadence: { steps: [{ days: -2, by: ['mail'] }] },
  stops: ends('held'),
  keepsFirstDueOn: false,
  due: ({ state, on, bookedOn }) =>
    state === 'booked' && daysBetween(bookedOn, on) >= FRESH_DAYS ? { dueOn: on, assumed: false } : null,
  reason: ({ dueOn }) => ({
    en: `We visit you on ${dayInWords(dueOn, 'en')}.`,
    es: `Le visitamos el ${dayInWords(dueOn, 'es')}.`,
  }),
}
