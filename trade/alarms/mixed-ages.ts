import { addMonths, type Day, earliest, latest } from '../dates.ts'
import { dayInWords } from '../day-in-words.ts'
import type { RuleContext } from '../editions.ts'
import { inUse } from '../home.ts'
import { type Basis, finding, notApplicable, sound, undetermined } from '../judging.ts'
import type { HomeRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'
import { ageOf, type AlarmAge, alarmReplacement } from './replacement.ts'

/** Ends that lie no further apart are one replacement. Common practice, no source. */
const ONE_SET_MONTHS = 12

export interface AgesInputs {
  alarms: readonly AlarmAge[]
}

/** A set whose alarms end years apart means a ladder and a visit for each: renewing them together is offered. */
export function judgeMixedAges({ alarms }: AgesInputs, context: RuleContext): Verdict[] {
  const ends = alarms.map((age) => alarmReplacement(age, context.today).replaceBy)
  const known = ends.filter((end): end is Day => end !== null)
  const [first, last] = [earliest(...known), latest(...known)]
  const basis: Basis = {
    rule: 'alarms.ages',
    inputs: { alarms: alarms.length, undated: ends.length - known.length, first, last },
    references: [{ code: 'common practice', row: 'alarms of one set are renewed together' }],
    whenBuilt: 'no',
    today: 'no',
  }
  if (alarms.length < 2) return [notApplicable(basis, 'fewer than two alarms')]
  if (known.length < ends.length) return [undetermined(basis, ['Date on the label of each alarm'])]
  const between = `between ${dayInWords(first!, 'en')} and ${dayInWords(last!, 'en')}`
  if (last! > addMonths(first!, ONE_SET_MONTHS)) {
    return [
      finding(basis, 'watch', {
        technician: `The set ends ${between}: consider renewing it together.`,
        homeowner: 'Your alarms differ in age; renewing them together saves visits.',
      }),
    ]
  }
  return [
    sound(basis, {
      technician: `The set ends ${between}.`,
      homeowner: 'Your alarms are of about the same age.',
    }),
  ]
}

export const mixedAges: HomeRule<AgesInputs> = {
  id: 'alarms.ages',
  title: 'Ages of the set',
  watches: ['alarm'],
  inputs: (home) => ({ alarms: inUse(home, 'alarm').map(ageOf) }),
  judge: judgeMixedAges,
}
