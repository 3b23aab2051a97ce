import { type Day, day } from '../../dates.ts'
import { ends, type FollowUpKind } from '../kind.ts'
import { lastRepeat } from '../repeats.ts'

export interface TipsWanted {
  /** The day on which the household asked for tips: none that fell before it is made up for. */
  since: Day | null
  today: Day
}

/** Tips fall on the turn of the seasons, the first of March, June, September and December: common practice, no source. */
export const TURN_OF_SEASON = day('2000-03-01')

/** Only for those who asked: how to press the test buttons, four times a year. */
export const selfTestTips: FollowUpKind<TipsWanted> = {
  id: 'self-test-tips',
  subjectKind: 'home',
  office: 'Self-test tips',
  concerns: 'Households that asked for a seasonal reminder to press the test buttons',
  tells: 'contact',
  category: 'commercial',
  preference: 'tips',
  urgency: 'routine',
  cadence: { steps: [{ days: 0, by: ['mail'] }] },
  stops: ends('moved-away', 'opted-out'),
  keepsFirstDueOn: false,
  due({ since, today }, policy) {
    const dueOn = lastRepeat(TURN_OF_SEASON, policy.tipsMonths, today)
    return since && dueOn && dueOn > since ? { dueOn, assumed: false } : null
  },
  reason: () => ({
    en: 'You asked us to remind you: press the test button of each alarm and of each ground-fault outlet.',
    es: 'Usted nos pidió este recordatorio: pulse el botón de prueba de cada alarma y de cada tomacorriente con protección contra fallas a tierra (GFCI).',
  }),
}
