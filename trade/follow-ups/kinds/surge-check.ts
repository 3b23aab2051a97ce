import { ends, type FollowUpKind, holds } from '../kind.ts'
import { dayInWords } from '../../day-in-words.ts'
import type { BatteryDue as CheckDue } from './alarm-battery.ts'

export const surgeCheck: FollowUpKind<CheckDue> = {
  id: 'surge-check',
  subjectKind: 'equipment',
  office: 'Surge protector check',
  concerns:
    'Homes with a surge protector that was last looked at a year ago, or that reaches its planned life',
  tells: 'contact',
  category: 'commercial',
  preference: 'reminder',
  urgency: 'routine',
  cadence: {
    steps: [
      { days: -30, by: ['mail'] },
      { days: -7, by: ['mail'] },
      { days: 14, by: ['mail'] },
    ],
  },
  stops: [
    ...ends('checked', 'replaced', 'retired', 'declined', 'moved-away', 'opted-out'),
    ...holds('booked'),
  ],
  keepsFirstDueOn: false,
  due: ({ nextCheckOn, assumed }) => nextCheckOn && { dueOn: nextCheckOn, assumed },
  reason: ({ label, dueOn }) => ({
    en:
      `Please look at the surge protector “${label}” by ${dayInWords(dueOn, 'en')}: it wears with every surge it takes, ` +
      'and only its indicator shows when it is used up.',
    es:
      `Conviene revisar el protector contra sobretensiones «${label}» a más tardar el ${dayInWords(dueOn, 'es')}: se gasta ` +
      'con cada sobretensión y solo su indicador lo muestra.',
  }),
}
