import { addYears, type Day, daysBetween } from '../dates.ts'
import { dayInWords } from '../day-in-words.ts'
import type { RuleContext } from '../editions.ts'
import type { DetailsOf } from '../equipment.ts'
import { type Basis, finding, sound } from '../judging.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'
import { CO_END_OF_LIFE_SIGNAL } from './life-figures.ts'
import { ageOf, type AlarmAge, alarmReplacement } from './replacement.ts'

export interface ReplacementInputs extends AlarmAge {
  endOfLifeSounding: boolean | null
}

/** Whoever is on site offers to renew what ends within this time. Own choice. */
const SOON_YEARS = 1

/** Overdue begins on the day after the last day of service. */
export function judgeReplacement(inputs: ReplacementInputs, context: RuleContext): Verdict {
  const { replaceBy, assumed, why, references } = alarmReplacement(inputs, context.today)
  const basis: Basis = {
    rule: 'alarms.replacement',
    inputs: { ...inputs, replaceBy, assumed },
    references,
    figures: replaceBy
      ? [{ label: 'Days left', value: daysBetween(context.today, replaceBy), unit: 'days' }]
      : [],
    whenBuilt: 'yes',
    today: 'yes',
  }
  if (inputs.endOfLifeSounding) {
    return finding(basis, 'repair', {
      technician: 'End-of-life signal sounding: replace the whole alarm now.',
      homeowner: 'This alarm says itself that it is worn out. It should be replaced now.',
    })
  }
  if (!replaceBy) {
    return finding(basis, 'repair', {
      technician: why,
      homeowner: 'Nobody can tell how old this alarm is, so it should be treated as too old and replaced.',
    })
  }
  if (replaceBy < context.today) {
    return finding(basis, 'repair', {
      technician: `Overdue since ${dayInWords(replaceBy, 'en')}. ${why}`,
      homeowner: 'This alarm is past its years of service and should be replaced.',
    })
  }
  if (replaceBy <= addYears(context.today, SOON_YEARS)) {
    return finding(basis, 'watch', {
      technician: `Due by ${dayInWords(replaceBy, 'en')}. ${why}`,
      homeowner: 'This alarm reaches the end of its years of service within a year.',
    })
  }
  return sound(basis, {
    technician: `Good until ${dayInWords(replaceBy, 'en')}. ${why}`,
    homeowner: 'This alarm is within its years of service.',
  })
}

export const replacementRule: EquipmentRule<'alarm', ReplacementInputs> = {
  id: 'alarms.replacement',
  title: 'Age of the alarm',
  kind: 'alarm',
  inputs: (alarm) => ({ ...ageOf(alarm), endOfLifeSounding: alarm.details.endOfLifeSounding ?? null }),
  judge: judgeReplacement,
}

/** Whether a CO alarm of that date tells the end of its life by itself. */
export function endOfLifeSignalExpected(manufacturedOn: Day | null): 'must' | 'may' | 'no' | 'unknown' {
  if (!manufacturedOn) return 'unknown'
  if (manufacturedOn >= CO_END_OF_LIFE_SIGNAL.must) return 'must'
  return manufacturedOn >= CO_END_OF_LIFE_SIGNAL.may ? 'may' : 'no'
}

export type AlarmDetails = DetailsOf<'alarm'>
