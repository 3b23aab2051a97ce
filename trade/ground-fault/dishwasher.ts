import type { RuleContext } from '../editions.ts'
import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { childrenOf } from '../home.ts'
import { type Basis, notApplicable, onClocks, shortfall, sound, undetermined } from '../judging.ts'
import { clocksOf } from '../requirement.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'
import { groundFaultRequirement } from './places.ts'

export interface DishwasherInputs extends Pick<DetailsOf<'circuit'>, 'serves' | 'device'> {
  /** What protects the receptacles recorded on this circuit; empty where none is recorded. */
  outlets: readonly DetailsOf<'receptacle'>['groundFault'][]
}

const RULE = 'ground-fault.dishwasher'
const PROTECTING: readonly DishwasherInputs['device'][] = ['gfci', 'dual']

/** The dishwasher's outlet, cord or hard-wired. NFPA 70 210.8(D), since 2014. */
export function judgeDishwasher(inputs: DishwasherInputs, context: RuleContext): Verdict {
  const { serves, device, outlets } = inputs
  const basis: Basis = onClocks(
    {
      rule: RULE,
      inputs: {
        serves,
        device,
        outlets: outlets
          .map((each) => each ?? '?')
          .toSorted()
          .join(', '),
      },
    },
    clocksOf(groundFaultRequirement('dishwasher'), context),
  )
  if (!serves) return undetermined(basis, [EQUIPMENT_FIELDS.circuit.serves.label])
  if (serves !== 'dishwasher') return notApplicable(basis, 'the circuit serves no dishwasher')
  const guarded = outlets.length > 0 && outlets.every((each) => each && each !== 'none')
  if (PROTECTING.includes(device) || guarded) {
    return sound(basis, {
      technician: 'Dishwasher outlet ground-fault protected.',
      homeowner: 'The dishwasher is protected against shock from leaking current.',
    })
  }
  if (basis.whenBuilt === 'no' && basis.today === 'no') {
    return notApplicable(basis, 'no edition in force asks for it')
  }
  if (!device) return undetermined(basis, [EQUIPMENT_FIELDS.circuit.device.label])
  if (!outlets.includes('none'))
    return undetermined(basis, ['What protects the receptacle of the dishwasher'])
  return shortfall(basis, context, {
    technician: 'Dishwasher outlet without ground-fault protection',
    homeowner: 'The dishwasher has no protection against shock from leaking current. It can be added.',
  })
}

export const dishwasher: EquipmentRule<'circuit', DishwasherInputs> = {
  id: RULE,
  title: 'Ground-fault protection of the dishwasher',
  kind: 'circuit',
  watches: ['receptacle'],
  inputs: (circuit, home) => ({
    serves: circuit.details.serves,
    device: circuit.details.device,
    outlets: childrenOf(home, circuit.id).flatMap((each) =>
      each.kind === 'receptacle' ? [each.details.groundFault] : [],
    ),
  }),
  judge: judgeDishwasher,
}
