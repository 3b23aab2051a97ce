import { addYears, type Day, dayOf, earliest } from '../../dates.ts'
import type { Tenure } from '../../property.ts'
import { ends, type FollowUpKind, holds } from '../kind.ts'
import type { Policy } from '../policy.ts'
import { dayInWords } from '../../day-in-words.ts'

export interface InspectedHome {
  yearBuilt: number | null
  tenure: Tenure | null
  lastInspectedOn: Day | null
  soldOn: Day | null
  /** The last report asked for the next inspection by this day. */
  reportDueOn: Day | null
}

/**
 * The earlier of the policy's interval and the report's own date; a sale since the last inspection makes it due at once.
 * A home never inspected is due only through a sale: there is nothing to repeat.
 */
export function reInspectionDue(home: InspectedHome, { reinspection }: Policy) {
  const { lastInspectedOn, soldOn } = home
  if (soldOn && (!lastInspectedOn || soldOn > lastInspectedOn)) return { dueOn: soldOn, assumed: false }
  if (!lastInspectedOn) return null
  const { ownerYears, rentedYears } = reinspection
  const byTenure = addYears(lastInspectedOn, home.tenure === 'rented' ? rentedYears : ownerYears)
  const dueOn = earliest(byTenure, olderHomeDue(home, reinspection), home.reportDueOn)!
  return { dueOn, assumed: home.tenure === null && dueOn === byTenure }
}

/** A home that comes of age between two inspections falls due on that New Year's Day, not before. */
function olderHomeDue(
  home: InspectedHome,
  { olderHomeYears, olderHomeAge }: Policy['reinspection'],
): Day | null {
  if (home.yearBuilt === null || home.lastInspectedOn === null) return null
  const shorter = addYears(home.lastInspectedOn, olderHomeYears)
  const ofAge = dayOf(home.yearBuilt + olderHomeAge, 1, 1)
  return shorter > ofAge ? shorter : ofAge
}

export const reInspection: FollowUpKind<InspectedHome> = {
  id: 're-inspection',
  subjectKind: 'home',
  office: 'Next inspection',
  concerns: 'Homes whose inspection interval has passed, or that were sold since',
  tells: 'contact',
  category: 'commercial',
  preference: 'reminder',
  urgency: 'routine',
  cadence: {
    steps: [
      { days: -60, by: ['mail'] },
      { days: -30, by: ['mail'] },
      { days: -7, by: ['mail'] },
      { days: 30, by: ['mail'] },
      { days: 90, by: ['mail'] },
    ],
    then: { every: 12, unit: 'months', by: ['mail'] },
  },
  stops: [...ends('inspected', 'sold', 'declined', 'moved-away', 'opted-out'), ...holds('booked')],
  keepsFirstDueOn: false,
  due: reInspectionDue,
  reason: ({ dueOn }) => ({
    en: `The next inspection of the wiring in your home is due by ${dayInWords(dueOn, 'en')}.`,
    es: `La próxima inspección de la instalación eléctrica de su vivienda toca a más tardar el ${dayInWords(dueOn, 'es')}.`,
  }),
}
