import { ageOf, alarmReplacement } from '../alarms/replacement.ts'
import { addMonths, addYears, type Day, earliest } from '../dates.ts'
import { dayInWords } from '../day-in-words.ts'
import type { Equipment, EquipmentOf } from '../equipment.ts'
import { DEFAULT_POLICY, type Policy } from './policy.ts'

/** The dates kept beside a device, worked out whenever it is saved or looked at. */
export interface EquipmentDates {
  /** Last day of service; the day on which it was noticed where it must be replaced now. Null = no dated life. */
  replaceBy: Day | null
  /** `replaceBy` rests on something that nobody read off the device. */
  assumed: boolean
  /** Next look at it (surge protector) or change of its battery (alarm). */
  nextCheckOn: Day | null
  /** `nextCheckOn` counts from something other than a known check or change. */
  checkAssumed: boolean
  /** One sentence for the technician. */
  why: string
}

const NONE: EquipmentDates = {
  replaceBy: null,
  assumed: false,
  nextCheckOn: null,
  checkAssumed: false,
  why: 'No dated life.',
}

export function equipmentDates(
  equipment: Equipment,
  today: Day,
  { policy = DEFAULT_POLICY, isUs = null }: { policy?: Policy; isUs?: boolean | null } = {},
): EquipmentDates {
  if (equipment.retiredOn)
    return { ...NONE, why: `Out of use since ${dayInWords(equipment.retiredOn, 'en')}.` }
  switch (equipment.kind) {
    case 'alarm':
      return alarmDates(equipment, today, policy, isUs)
    case 'surge-protector':
      return surgeDates(equipment, today, policy)
    default:
      return NONE
  }
}

/**
 * The dates that move when the company changes its intervals. Null where none does: a day on which something was noticed
 * stays that day, and the life of an alarm is its maker's.
 */
export function datesByInterval(
  equipment: Equipment,
  today: Day,
  given: { policy: Policy; isUs: boolean | null },
): Partial<Pick<EquipmentDates, 'replaceBy' | 'nextCheckOn'>> | null {
  const { replaceBy, nextCheckOn } = equipmentDates(equipment, today, given)
  if (equipment.kind === 'alarm') return { nextCheckOn }
  if (equipment.kind !== 'surge-protector' || surgeHasFailed(equipment)) return null
  return (equipment.lastCheckedOn ?? equipment.installedOn) ? { replaceBy, nextCheckOn } : null
}

/** When it was noticed that a device is past its life. A day in the future is nobody's observation. */
function noticedOn(equipment: Equipment, today: Day): Day {
  return earliest(equipment.lastCheckedOn ?? equipment.installedOn ?? today, today)!
}

function alarmDates(
  alarm: EquipmentOf<'alarm'>,
  today: Day,
  policy: Policy,
  isUs: boolean | null,
): EquipmentDates {
  const { replaceBy, assumed, why } = alarmReplacement(ageOf(alarm), today, isUs)
  if (!replaceBy) return { ...NONE, replaceBy: noticedOn(alarm, today), assumed, why }
  const failed = failure(alarm)
  if (failed) {
    return { ...NONE, replaceBy: earliest(replaceBy, noticedOn(alarm, today)), assumed, why: failed }
  }
  return { replaceBy, assumed, why, ...batteryDue(alarm, replaceBy, policy) }
}

/** An alarm that fails its test or says itself that it is worn out is replaced now: NFPA 72-2013 §14.4.7.1, UL 2034. */
function failure({ details }: EquipmentOf<'alarm'>): string | null {
  if (details.endOfLifeSounding) return 'Its end-of-life signal sounds: replace the whole alarm now.'
  if (details.buttonTest === 'silent') return 'It stays silent at its test button: replace it now.'
  return null
}

/** A battery is not asked for when the whole alarm goes before; sealed and wired-only alarms have none to change. */
function batteryDue(alarm: EquipmentOf<'alarm'>, replaceBy: Day, policy: Policy) {
  const { power, batteryChangedOn } = alarm.details
  const hasBattery = power === 'battery' || power === 'mains-and-battery'
  const from = batteryChangedOn ?? alarm.lastCheckedOn ?? alarm.installedOn
  const due = hasBattery && from ? addMonths(from, policy.batteryMonths) : null
  const nextCheckOn = due && due < replaceBy ? due : null
  return { nextCheckOn, checkAssumed: nextCheckOn !== null && !batteryChangedOn }
}

/** The protector shows that it no longer protects. */
export function surgeHasFailed({ details }: EquipmentOf<'surge-protector'>): boolean {
  return details.indicator === 'fault' || details.indicator === 'dark'
}

function surgeDates(device: EquipmentOf<'surge-protector'>, today: Day, policy: Policy): EquipmentDates {
  if (surgeHasFailed(device)) {
    return {
      ...NONE,
      replaceBy: noticedOn(device, today),
      why: 'Its indicator says that protection is lost.',
    }
  }
  const fitted = device.installedOn ?? device.manufacturedOn
  const { lifeYears } = device.details
  const years = lifeYears ?? policy.surge.lifeYears
  const replaceBy = fitted && addYears(fitted, years)
  const looked = device.lastCheckedOn ?? device.installedOn
  const byCheck = looked ? addMonths(looked, policy.surge.checkMonths) : today
  // Once somebody has looked at it after its planned life, only the yearly look remains.
  const isLifeAhead = replaceBy && (!device.lastCheckedOn || device.lastCheckedOn < replaceBy)
  return {
    replaceBy,
    assumed: replaceBy !== null && lifeYears === undefined,
    nextCheckOn: isLifeAhead ? earliest(byCheck, replaceBy) : byCheck,
    checkAssumed: !device.lastCheckedOn,
    why: looked
      ? `Last looked at ${dayInWords(looked, 'en')}; checked every ${policy.surge.checkMonths} months.`
      : 'Nobody has noted a check: look at its indicator now.',
  }
}
