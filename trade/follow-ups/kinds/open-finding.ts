import { addDays, addMonths, type Day } from '../../dates.ts'
import type { FollowUpFinding } from '../facts.ts'
import { type Due, ends, type FollowUpKind, holds, type Manner, type Stop } from '../kind.ts'
import type { Policy } from '../policy.ts'
import { withoutFullStop } from '../words.ts'

/** Last of so many days; some laws count the day of the inspection as the first. */
export function remedialDay(foundOn: Day, days: number, countFoundDay: boolean): Day {
  return addDays(foundOn, countFoundDay ? days - 1 : days)
}

/**
 * `unsafe` is told the same day and stays until corrected and checked; a signed refusal is asked again after the recheck
 * time. The others end as soon as the owner has decided. `watch` has a date of its own or none.
 */
export function openFindingDue(finding: FollowUpFinding, policy: Policy): Due | null {
  const { foundOn, severity, state } = finding
  const { finding: days } = policy
  if (state === 'checked' || state === 'no-longer-applies') return null
  if (severity === 'unsafe') {
    const { refusedOn } = finding
    return on(refusedOn ? addDays(refusedOn, days.refusedRecheckDays) : foundOn)
  }
  if (state !== 'open' && state !== 'on-estimate') return null
  switch (severity) {
    case 'repair':
      return on(remedialDay(foundOn, days.repairDays, days.countFoundDay))
    case 'investigate':
      return on(remedialDay(foundOn, days.investigateDays, days.countFoundDay))
    case 'improve':
      return on(addMonths(foundOn, days.improveMonths))
    case 'watch':
      return finding.watchUntil ? on(finding.watchUntil) : null
  }
}

function on(dueOn: Day): Due {
  return { dueOn, assumed: false }
}

const UNSAFE: Manner = {
  category: 'relationship',
  preference: 'safety',
  urgency: 'at-once',
  cadence: {
    steps: [{ days: 0, by: ['mail', 'call'] }],
    then: { every: 1, unit: 'days', by: ['call'] },
  },
}
/** Offered once, never pushed. */
const ONCE: Manner = {
  category: 'commercial',
  preference: 'reminder',
  urgency: 'routine',
  cadence: { steps: [{ days: 0, by: ['mail'] }] },
}

export const openFinding: FollowUpKind<FollowUpFinding> = {
  id: 'open-finding',
  subjectKind: 'finding',
  office: 'Open finding',
  concerns: 'Homes with a finding that is neither corrected nor decided on',
  tells: 'contact',
  category: 'commercial',
  preference: 'reminder',
  urgency: 'soon',
  cadence: {
    steps: [
      { days: -14, by: ['mail'] },
      { days: -3, by: ['mail'] },
      { days: 1, by: ['call'] },
      { days: 14, by: ['letter'] },
    ],
  },
  bySeverity: { unsafe: UNSAFE, improve: ONCE, watch: ONCE },
  stops: [
    ...ends('corrected-and-checked', 'no-longer-applies', 'accepted', 'declined', 'moved-away', 'opted-out'),
    ...holds('booked'),
  ],
  keepsFirstDueOn: false,
  due: openFindingDue,
  reason: ({ label, severity }) => ({
    en: `Our inspection noted: ${withoutFullStop(label)}. ${URGENCY[severity ?? 'repair'].en}`,
    es: `En nuestra inspección anotamos: ${withoutFullStop(label)}. ${URGENCY[severity ?? 'repair'].es}`,
  }),
}

/** What ends or holds an open finding of one severity: a danger is not switched off by a booking or an opt-out. */
export function openFindingStops(severity: FollowUpFinding['severity']): readonly Stop[] {
  if (severity !== 'unsafe') return openFinding.stops
  return [
    ...ends('corrected-and-checked', 'no-longer-applies', 'moved-away'),
    ...holds('acknowledged', 'refused'),
  ]
}

const URGENCY = {
  unsafe: {
    en: 'It should be made safe today; until then please do not use that part.',
    es: 'Conviene ponerlo en seguro hoy; hasta entonces, no use esa parte, por favor.',
  },
  repair: { en: 'It should be repaired.', es: 'Debería repararse.' },
  investigate: {
    en: 'It needs a closer look before anybody can judge it.',
    es: 'Hay que verlo más de cerca antes de poder juzgarlo.',
  },
  improve: {
    en: 'It is safe as it is; new homes are built better today.',
    es: 'Es seguro tal como está; hoy las viviendas nuevas se construyen mejor.',
  },
  watch: { en: 'The time to look at it again has come.', es: 'Ha llegado el momento de volver a mirarlo.' },
} as const
