import { addDays, type Day } from '../../dates.ts'
import type { SurgeEvent } from '../facts.ts'
import { ends, type FollowUpKind, holds } from '../kind.ts'

export interface AfterEvent {
  /** The latest event; null = none. */
  event: SurgeEvent | null
  lastCheckedOn: Day | null
  installedOn: Day | null
}

export const surgeAfterEvent: FollowUpKind<AfterEvent> = {
  id: 'surge-after-event',
  subjectKind: 'equipment',
  office: 'Surge protector check after an event',
  concerns: 'Homes with a surge protector after a strike nearby, a fault of the utility or work in the panel',
  tells: 'contact',
  category: 'commercial',
  preference: 'reminder',
  urgency: 'soon',
  cadence: {
    steps: [
      { days: -6, by: ['mail'] },
      { days: 7, by: ['mail'] },
    ],
  },
  stops: [
    ...ends('checked', 'replaced', 'retired', 'declined', 'moved-away', 'opted-out'),
    ...holds('booked'),
  ],
  keepsFirstDueOn: false,
  due({ event, lastCheckedOn, installedOn }, policy) {
    if (!event) return null
    const isChecked = lastCheckedOn !== null && lastCheckedOn > event.on
    const isNewer = installedOn !== null && installedOn > event.on
    if (isChecked || isNewer) return null
    return { dueOn: addDays(event.on, policy.surge.afterEventDays), assumed: false }
  },
  reason: ({ label }) => ({
    en:
      `There was a storm, a fault in the supply or work at the panel. Please look at the indicator of the surge ` +
      `protector “${label}”: it may have used itself up while protecting the home.`,
    es:
      `Hubo una tormenta, una avería del suministro o un trabajo en el panel eléctrico. Mire por favor el indicador del ` +
      `protector contra sobretensiones «${label}»: puede haberse agotado al proteger la vivienda.`,
  }),
}
