import { addDays } from '../../dates.ts'
import type { FollowUpVisit } from '../facts.ts'
import { ends, type FollowUpKind } from '../kind.ts'

export const noAccessRebooking: FollowUpKind<FollowUpVisit> = {
  id: 'no-access-rebooking',
  subjectKind: 'visit',
  office: 'Rebook after no access',
  concerns: 'Homes where the technician could not get in and no new visit is booked',
  tells: 'payer',
  category: 'relationship',
  preference: 'booking',
  urgency: 'soon',
  cadence: {
    steps: [
      { days: 0, by: ['mail'] },
      { days: 3, by: ['call'] },
      { days: 10, by: ['mail'] },
    ],
  },
  stops: ends('rebooked', 'declined', 'moved-away'),
  keepsFirstDueOn: false,
  due: ({ state, on, rebooked }, policy) =>
    state === 'no-access' && !rebooked ? { dueOn: addDays(on, policy.noAccessDays), assumed: false } : null,
  reason: () => ({
    en: 'We came and could not get in. Please choose another time that suits you.',
    es: 'Fuimos y no pudimos entrar. Elija por favor otro momento que le convenga.',
  }),
}
