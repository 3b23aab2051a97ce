import type { RuleContext } from '../editions.ts'
import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { missingOf, onClocks, shortfall, sound, undetermined } from '../judging.ts'
import { clocksOf, type Requirement } from '../requirement.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'

const RULE = 'service.minimum-rating'

/** One-family dwelling, three-wire. NFPA 70 230.79(C), as in IRC E3602. */
export const MINIMUM_SERVICE_AMPS = 100

const REQUIREMENT: Requirement = {
  keys: [RULE],
  rows: [
    {
      since: '1999',
      required: true,
      article: '230.79(C)',
      row: 'one-family dwelling: 100 A, 3-wire',
      source: 'IRC E3602; that it became unconditional with 1999 from memory',
    },
  ],
  before: 'no',
}

export type MinimumRatingInputs = Pick<DetailsOf<'service'>, 'ratingAmps'>

export function judgeMinimumRating(inputs: MinimumRatingInputs, context: RuleContext): Verdict {
  const { ratingAmps } = inputs
  const basis = onClocks({ rule: RULE, inputs }, clocksOf(REQUIREMENT, context))
  if (ratingAmps == null)
    return undetermined(basis, missingOf(EQUIPMENT_FIELDS.service, inputs, ['ratingAmps']))
  basis.figures = [
    { label: 'Service rating', value: ratingAmps, unit: 'A' },
    { label: 'Smallest for a one-family home', value: MINIMUM_SERVICE_AMPS, unit: 'A' },
  ]
  if (ratingAmps >= MINIMUM_SERVICE_AMPS) {
    return sound(basis, {
      technician: `${ratingAmps} A service: ${MINIMUM_SERVICE_AMPS} A is the least.`,
      homeowner: 'The supply to your home has at least the size that new homes get.',
    })
  }
  return shortfall(basis, context, {
    technician: `${ratingAmps} A service: ${MINIMUM_SERVICE_AMPS} A is the least`,
    homeowner:
      'The supply is smaller than new homes get. It can stay, but leaves little room for new equipment.',
  })
}

export const minimumRating: EquipmentRule<'service', MinimumRatingInputs> = {
  id: RULE,
  title: 'Smallest service for a home',
  kind: 'service',
  inputs: ({ details: { ratingAmps } }) => ({ ratingAmps }),
  judge: judgeMinimumRating,
}
