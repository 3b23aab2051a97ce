import { ends, type FollowUpKind, holds } from '../kind.ts'
import type { DatedDevice } from './alarm-end-of-life.ts'

/** Its indicator says that the protection is gone: due on the day on which that was seen. */
export const surgeFailed: FollowUpKind<DatedDevice> = {
  id: 'surge-failed',
  subjectKind: 'equipment',
  office: 'Surge protector failed',
  concerns: 'Homes whose surge protector shows a fault or a dark indicator',
  tells: 'contact',
  category: 'commercial',
  preference: 'reminder',
  urgency: 'soon',
  cadence: {
    steps: [
      { days: 0, by: ['mail'] },
      { days: 14, by: ['mail'] },
      { days: 30, by: ['call'] },
    ],
  },
  stops: [...ends('replaced', 'retired', 'declined', 'moved-away', 'opted-out'), ...holds('booked')],
  keepsFirstDueOn: true,
  due: ({ replaceBy, assumed }) => replaceBy && { dueOn: replaceBy, assumed },
  reason: ({ label }) => ({
    en: `The surge protector “${label}” no longer protects: its indicator is dark or shows a fault.`,
    es: `El protector contra sobretensiones «${label}» ya no protege: su indicador está apagado o avisa de un fallo.`,
  }),
}
