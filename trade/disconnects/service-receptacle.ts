import type { RuleContext } from '../editions.ts'
import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { type Basis, notApplicable, onClocks, shortfall, sound, tidy, undetermined } from '../judging.ts'
import { clocksOf, type Requirement } from '../requirement.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'

/** From memory: NFPA 70 210.63. */
export const SERVICE_RECEPTACLE_FEET = 25
export const SERVICE_RECEPTACLE: Requirement = {
  keys: ['disconnects.service-receptacle'],
  rows: [
    { since: '2002', required: true, article: '210.63', source: 'from memory; older editions not looked up' },
  ],
  before: 'unknown',
}

export type ServiceReceptacleInputs = Pick<DetailsOf<'disconnect'>, 'serves' | 'serviceReceptacleFeet'>

const FIELDS = EQUIPMENT_FIELDS.disconnect
const HEATING_AND_COOLING: readonly ServiceReceptacleInputs['serves'][] = ['air-conditioner', 'heat-pump']

export function judgeServiceReceptacle(inputs: ServiceReceptacleInputs, context: RuleContext): Verdict {
  const { serves, serviceReceptacleFeet: feet } = inputs
  const basis: Basis = onClocks(
    {
      rule: 'disconnects.service-receptacle',
      inputs: { ...inputs },
      figures: [
        { label: 'Farthest service receptacle', value: SERVICE_RECEPTACLE_FEET, unit: 'ft' },
        ...(feet == null
          ? []
          : [{ label: FIELDS.serviceReceptacleFeet.label, value: feet, unit: 'ft' as const }]),
      ],
    },
    clocksOf(SERVICE_RECEPTACLE, context),
  )
  if (!serves) return undetermined(basis, [FIELDS.serves.label])
  if (!HEATING_AND_COOLING.includes(serves)) {
    return notApplicable(
      { ...basis, whenBuilt: 'no', today: 'no' },
      'only heating and cooling machines need one',
    )
  }
  if (feet == null) return undetermined(basis, [FIELDS.serviceReceptacleFeet.label])
  const what = `Service receptacle ${tidy(feet)} ft away, ${SERVICE_RECEPTACLE_FEET} ft at most`
  if (feet <= SERVICE_RECEPTACLE_FEET) {
    return sound(basis, {
      technician: `${what}.`,
      homeowner: 'An outlet for service work is close to the machine.',
    })
  }
  return shortfall(basis, context, {
    technician: what,
    homeowner: 'The nearest outlet is far from the machine, so service work needs a long cord.',
  })
}

export const serviceReceptacle: EquipmentRule<'disconnect', ServiceReceptacleInputs> = {
  id: 'disconnects.service-receptacle',
  title: 'Service receptacle within reach',
  kind: 'disconnect',
  inputs: ({ details: { serves, serviceReceptacleFeet } }) => ({ serves, serviceReceptacleFeet }),
  judge: judgeServiceReceptacle,
}
