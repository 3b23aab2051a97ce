import type { Day } from '../../dates.ts'
import { ends, type FollowUpKind, holds } from '../kind.ts'
import { dayInWords } from '../../day-in-words.ts'
import { ASSUMED } from '../words.ts'

export interface DatedDevice {
  replaceBy: Day | null
  assumed: boolean
}

export const alarmEndOfLife: FollowUpKind<DatedDevice> = {
  id: 'alarm-end-of-life',
  subjectKind: 'equipment',
  office: 'Alarm at the end of its life',
  concerns: 'Homes with a smoke, carbon monoxide or heat alarm whose last day of service is near or past',
  tells: 'contact',
  category: 'commercial',
  preference: 'reminder',
  urgency: 'soon',
  cadence: {
    steps: [
      { days: -90, by: ['mail'] },
      { days: -30, by: ['mail'] },
      { days: -7, by: ['mail'] },
      { days: 0, by: ['mail'] },
      { days: 14, by: ['mail'] },
      { days: 45, by: ['mail'] },
      { days: 60, by: ['call'] },
    ],
  },
  stops: [...ends('replaced', 'retired', 'declined', 'moved-away', 'opted-out'), ...holds('booked')],
  keepsFirstDueOn: false,
  due: ({ replaceBy, assumed }) => replaceBy && { dueOn: replaceBy, assumed },
  reason: ({ label, dueOn, assumed }) => ({
    en:
      `The alarm “${label}” should be replaced by ${dayInWords(dueOn, 'en')}: alarms lose their sensitivity with age.` +
      (assumed ? ASSUMED.en : ''),
    es:
      `La alarma «${label}» debería cambiarse a más tardar el ${dayInWords(dueOn, 'es')}: con los años pierde sensibilidad.` +
      (assumed ? ASSUMED.es : ''),
  }),
}
