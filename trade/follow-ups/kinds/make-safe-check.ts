import { addDays } from '../../dates.ts'
import type { FollowUpFinding } from '../facts.ts'
import { ends, type FollowUpKind } from '../kind.ts'
import { withoutFullStop } from '../words.ts'

/** The day after a danger was found somebody asks whether what was done on site still holds. */
export const makeSafeCheck: FollowUpKind<FollowUpFinding> = {
  id: 'make-safe-check',
  subjectKind: 'finding',
  office: 'Make-safe check',
  concerns: 'Homes where something unsafe was found, one day later',
  tells: 'contact',
  category: 'relationship',
  preference: 'safety',
  urgency: 'at-once',
  cadence: { steps: [{ days: 0, by: ['call'] }], then: { every: 1, unit: 'days', by: ['call'] } },
  stops: ends('acknowledged', 'corrected-and-checked', 'no-longer-applies', 'refused'),
  keepsFirstDueOn: false,
  due(finding, policy) {
    const isOver = finding.state === 'checked' || finding.state === 'no-longer-applies'
    if (finding.severity !== 'unsafe' || isOver || finding.refusedOn) return null
    return { dueOn: addDays(finding.foundOn, policy.makeSafeDays), assumed: false }
  },
  reason: ({ label }) => ({
    en: `Our inspection found something unsafe: ${withoutFullStop(label)}. We ask whether what was done to make it safe still holds.`,
    es: `En la inspección encontramos un peligro: ${withoutFullStop(label)}. Preguntamos si lo que se hizo para evitarlo sigue en pie.`,
  }),
}
