import type { Day } from '../../dates.ts'
import { ends, type FollowUpKind, holds } from '../kind.ts'

export interface BatteryDue {
  nextCheckOn: Day | null
  assumed: boolean
}

export const alarmBattery: FollowUpKind<BatteryDue> = {
  id: 'alarm-battery',
  subjectKind: 'equipment',
  office: 'Alarm battery',
  concerns: 'Homes with an alarm whose battery can be changed and is a year old',
  tells: 'contact',
  category: 'commercial',
  preference: 'tips',
  urgency: 'routine',
  cadence: { steps: [{ days: 0, by: ['mail'] }] },
  stops: [
    ...ends('battery-changed', 'replaced', 'retired', 'declined', 'moved-away', 'opted-out'),
    ...holds('booked'),
  ],
  keepsFirstDueOn: false,
  due: ({ nextCheckOn, assumed }) => nextCheckOn && { dueOn: nextCheckOn, assumed },
  reason: ({ label }) => ({
    en: `The battery of the alarm “${label}” is due for its yearly change. You can do that yourself.`,
    es: `Toca el cambio anual de la pila de la alarma «${label}». Puede hacerlo por su cuenta.`,
  }),
}
