import type { RuleContext } from '../editions.ts'
import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { finding, missingOf, notApplicable, onClocks, shortfall, sound, undetermined } from '../judging.ts'
import { clocksOf, type Requirement } from '../requirement.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'

const FIELDS = EQUIPMENT_FIELDS.circuit
const RULE = 'overcurrent.ten-amp-circuit'
const TEN_AMPS = 10

type Serves = NonNullable<DetailsOf<'circuit'>['serves']>
/** What a 10 A branch circuit may not feed; garage-door openers are not told apart in the record. */
const NOT_ON_TEN_AMPS: readonly Serves[] = [
  'receptacles',
  'lighting-and-receptacles',
  'small-appliance',
  'laundry',
  'bathroom',
]
/** Fixed appliances may not be fed either, with exceptions that the record cannot tell. */
const FIXED_APPLIANCES: readonly Serves[] = [
  'range',
  'dryer',
  'water-heater',
  'dishwasher',
  'disposer',
  'air-conditioner',
  'heat-pump',
  'electric-heat',
  'motor',
  'vehicle',
  'hot-tub',
  'other',
]

const REQUIREMENT: Requirement = {
  keys: [RULE],
  rows: [
    {
      since: '1940',
      required: true,
      article: '210.3',
      row: 'branch circuits of 15 A and more',
      source: 'from memory',
    },
    {
      since: '2023',
      required: true,
      article: '210.23(A)',
      row: 'what a 10 A circuit may not feed; rating admitted by 210.18',
      source: 'course text on the 2023 changes; letter from memory',
    },
  ],
  before: 'unknown',
}

export type TenAmpInputs = Pick<DetailsOf<'circuit'>, 'ratingAmps' | 'serves'>

/** A 10 A circuit came with 2023, for lighting: no receptacles, fixed appliances or laundry on it. */
export function judgeTenAmp(inputs: TenAmpInputs, context: RuleContext): Verdict {
  const basis = onClocks({ rule: RULE, inputs }, clocksOf(REQUIREMENT, context))
  if (inputs.ratingAmps == null) return undetermined(basis, missingOf(FIELDS, inputs, ['ratingAmps']))
  if (inputs.ratingAmps !== TEN_AMPS) return notApplicable(basis, 'not a 10 A circuit')
  if (inputs.serves === 'spare') return notApplicable(basis, 'a spare')
  if (!inputs.serves) return undetermined(basis, missingOf(FIELDS, inputs, ['serves']))
  const serves = FIELDS.serves.options[inputs.serves].toLowerCase()
  if (NOT_ON_TEN_AMPS.includes(inputs.serves)) {
    return shortfall(basis, context, {
      technician: `10 A circuit feeding ${serves}: not allowed on a 10 A circuit`,
      homeowner:
        'This circuit is too small for outlets that people plug things into; it will switch off often.',
    })
  }
  if (FIXED_APPLIANCES.includes(inputs.serves)) {
    return finding(basis, 'investigate', {
      technician: `10 A circuit feeding ${serves}: allowed for a few fixed appliances only; check 210.23(A).`,
      homeowner:
        'This circuit is small for what it feeds; we will check that it is one of the cases allowed.',
    })
  }
  return sound(basis, {
    technician: `10 A circuit feeding ${serves}.`,
    homeowner: 'This small circuit feeds only what it is meant for.',
  })
}

export const tenAmpCircuit: EquipmentRule<'circuit', TenAmpInputs> = {
  id: RULE,
  title: 'What a 10 A circuit feeds',
  kind: 'circuit',
  inputs: ({ details: { ratingAmps, serves } }) => ({ ratingAmps, serves }),
  judge: judgeTenAmp,
}
