import { ends, type FollowUpKind, holds } from '../kind.ts'
import type { DatedDevice } from './alarm-end-of-life.ts'

/** An alarm whose age nobody can tell counts as past its life: the day on which that was noticed is its due date. */
export const alarmUndated: FollowUpKind<DatedDevice> = {
  id: 'alarm-undated',
  subjectKind: 'equipment',
  office: 'Alarm without a date',
  concerns: 'Homes with an alarm whose date of manufacture is not known or can be read in several ways',
  tells: 'contact',
  category: 'commercial',
  preference: 'reminder',
  urgency: 'soon',
  cadence: {
    steps: [
      { days: 0, by: ['mail'] },
      { days: 14, by: ['mail'] },
      { days: 45, by: ['mail'] },
    ],
  },
  stops: [
    ...ends('replaced', 'retired', 'date-read', 'declined', 'moved-away', 'opted-out'),
    ...holds('booked'),
  ],
  keepsFirstDueOn: true,
  due: ({ replaceBy, assumed }) => replaceBy && { dueOn: replaceBy, assumed },
  reason: ({ label }) => ({
    en:
      `We have no sure date of manufacture for the alarm “${label}”. Unless one can be read on its back, it should be ` +
      'treated as more than ten years old and replaced.',
    es:
      `No tenemos una fecha de fabricación segura de la alarma «${label}». Si no se puede leer en el dorso, conviene ` +
      'considerarla con más de diez años y cambiarla.',
  }),
}
