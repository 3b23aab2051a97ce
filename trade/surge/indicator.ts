import type { Day } from '../dates.ts'
import { dayInWords } from '../day-in-words.ts'
import type { RuleContext } from '../editions.ts'
import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { type Basis, finding, undetermined } from '../judging.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Severity, Verdict } from '../verdict.ts'
import { surgeCheckDue, surgeReplaceBy } from './dates.ts'

export interface IndicatorInputs extends Pick<DetailsOf<'surge-protector'>, 'indicator' | 'lifeYears'> {
  manufacturedOn: Day | null
  installedOn: Day | null
}

type State = Exclude<NonNullable<IndicatorInputs['indicator']>, 'good'>

/** Meaning of the lamp; the maker's legend wins. Common practice, no source, but that it must show: NFPA 70 242.9. */
const STATES: Record<State, { severity: Severity; technician: string; homeowner: string }> = {
  dark: {
    severity: 'repair',
    technician: 'Indicator dark: protection lost, replace',
    homeowner: 'The surge protector no longer protects your home and should be replaced.',
  },
  fault: {
    severity: 'repair',
    technician: 'Indicator shows a fault: protection lost, replace',
    homeowner: 'The surge protector reports that it no longer protects your home and should be replaced.',
  },
  degraded: {
    severity: 'improve',
    technician: 'Indicator shows degraded: replace while it still protects in part',
    homeowner: 'The surge protector is worn. Replacing it soon keeps the protection whole.',
  },
  'power-only': {
    severity: 'investigate',
    technician: 'Only a power lamp: it does not say "protected"; look up the device',
    homeowner:
      'The lamp of the surge protector does not tell whether it still protects. We need to look it up.',
  },
}

/** A good lamp is something to look at again on a date, never a lasting pass. */
export function judgeIndicator(inputs: IndicatorInputs, context: RuleContext): Verdict {
  const basis: Basis = {
    rule: 'surge.indicator',
    inputs: { ...inputs },
    references: [
      { code: 'NFPA 70', article: '242.9' },
      {
        code: 'common practice',
        row: 'check every 12 months; plan a new one at 10 years or the maker’s life',
      },
    ],
  }
  const { indicator } = inputs
  if (!indicator) return undetermined(basis, [EQUIPMENT_FIELDS['surge-protector'].indicator.label])
  if (indicator !== 'good') {
    const { severity, technician, homeowner } = STATES[indicator]
    return finding(basis, severity, { technician: `${technician}.`, homeowner })
  }
  const next = dayInWords(surgeCheckDue(context.today), 'en')
  const replaceBy = surgeReplaceBy(inputs)
  if (replaceBy && replaceBy <= context.today) {
    return finding(basis, 'improve', {
      technician: `Indicator lit, planned life over since ${dayInWords(replaceBy, 'en')}; next check ${next}.`,
      homeowner:
        'The surge protector still protects but has served its planned years. A new one is worth planning.',
    })
  }
  return finding(basis, 'watch', {
    technician: `Indicator lit; next check ${next}, ${replaceBy ? `plan a new one by ${dayInWords(replaceBy, 'en')}` : 'no date to plan its replacement by'}.`,
    homeowner: `The surge protector is working. It should be looked at again by ${next}.`,
  })
}

export const surgeIndicator: EquipmentRule<'surge-protector', IndicatorInputs> = {
  id: 'surge.indicator',
  title: 'Indicator of the surge protector',
  kind: 'surge-protector',
  inputs: ({ details, manufacturedOn, installedOn }) => ({
    indicator: details.indicator,
    lifeYears: details.lifeYears,
    manufacturedOn,
    installedOn,
  }),
  judge: judgeIndicator,
}
