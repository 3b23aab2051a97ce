import type { FollowUpVisit } from '../facts.ts'
import { ends, type FollowUpKind } from '../kind.ts'

export const visitConfirmation: FollowUpKind<FollowUpVisit> = {
  id: 'visit-confirmation',
  subjectKind: 'visit',
  office: 'Visit confirmation',
  concerns: 'Whoever has just booked or moved a visit',
  tells: 'payer',
  category: 'relationship',
  preference: 'booking',
  urgency: 'at-once',
  cadence: { steps: [{ days: 0, by: ['mail'] }] },
  stops: ends('held'),
  keepsFirstDueOn: false,
  due: ({ state, bookedOn }) => (state === 'booked' ? { dueOn: bookedOn, assumed: false } : null),
  reason: () => ({
    en: 'You have booked a visit with us.',
    es: 'Usted ha reservado una visita con nosotros.',
  }),
}
