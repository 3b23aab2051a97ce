import { addDays } from '../../dates.ts'
import type { FollowUpEstimate } from '../facts.ts'
import { ends, type FollowUpKind, holds } from '../kind.ts'

export const estimateUnanswered: FollowUpKind<FollowUpEstimate> = {
  id: 'estimate-unanswered',
  subjectKind: 'estimate',
  office: 'Estimate without an answer',
  concerns: 'Whoever was sent an estimate and has neither accepted nor declined it',
  tells: 'payer',
  category: 'commercial',
  preference: 'reminder',
  urgency: 'routine',
  cadence: {
    steps: [
      { days: 0, by: ['mail'] },
      { days: 7, by: ['mail'] },
      { days: 14, by: ['call'] },
    ],
  },
  stops: [...ends('answered', 'moved-away', 'opted-out'), ...holds('booked')],
  keepsFirstDueOn: false,
  due({ state, sentOn, askedOn, expiresOn }, policy) {
    if (state !== 'sent' || !sentOn) return null
    // Whoever asked something was heard from: it is our turn first.
    const heardOn = askedOn && askedOn > sentOn ? askedOn : sentOn
    const dueOn = addDays(heardOn, policy.estimateDays)
    const isTooLate = expiresOn !== null && expiresOn < dueOn
    return { dueOn: isTooLate ? expiresOn : dueOn, assumed: false }
  },
  reason: ({ label }) => ({
    en: `We sent you ${label} and have no answer yet. A yes, a no or a question helps us.`,
    es: `Le enviamos ${label} y aún no tenemos respuesta. Un sí, un no o una pregunta nos ayuda.`,
  }),
}
