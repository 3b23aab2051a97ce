import type { ConductorSize } from '../conductors/sizes.ts'
import type { RuleContext } from '../editions.ts'
import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { type Metal, metalOf } from '../grounding/electrode-conductor-table.ts'
import { onClocks, shortfall, sound, undetermined } from '../judging.ts'
import { clocksOf, type Requirement } from '../requirement.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'
import { type BondAsked, type BondInputs, bondInputs, judgeBond } from './bond.ts'

/** Outside the enclosures, reachable, for at least three conductors. That 2008 was the first is from memory. */
export const INTERSYSTEM_TERMINATION: Requirement = {
  keys: ['bonding.intersystem-termination'],
  rows: [
    {
      since: '2008',
      required: true,
      article: '250.94',
      row: 'outside the enclosures, for at least three conductors; existing homes need not be changed',
      source: 'NFPA 70 250.94; first edition from memory',
    },
  ],
  before: 'no',
}
/** Least conductor of a communications bond to its source. NFPA 70 250.94; the aluminium size is from memory. */
export const COMMUNICATIONS_BOND_LEAST: Readonly<Record<Metal, ConductorSize>> = {
  copper: '6',
  aluminium: '4',
}

export type IntersystemInputs = Pick<DetailsOf<'service'>, 'intersystemTermination'>

export function judgeIntersystemTermination(inputs: IntersystemInputs, context: RuleContext): Verdict {
  const basis = onClocks(
    { rule: 'bonding.intersystem-termination', inputs: { ...inputs } },
    clocksOf(INTERSYSTEM_TERMINATION, context),
  )
  if (inputs.intersystemTermination == null) {
    return undetermined(basis, [EQUIPMENT_FIELDS.service.intersystemTermination.label])
  }
  if (inputs.intersystemTermination) {
    return sound(basis, {
      technician: 'Intersystem bonding termination present.',
      homeowner: 'Telephone, cable and antenna have a shared point to be grounded at.',
    })
  }
  return shortfall(basis, context, {
    technician: 'No intersystem bonding termination',
    homeowner:
      'Telephone, cable and antenna have no shared grounding point. Adding one helps in thunderstorms.',
  })
}

export const intersystemTermination: EquipmentRule<'service', IntersystemInputs> = {
  id: 'bonding.intersystem-termination',
  title: 'Intersystem bonding termination',
  kind: 'service',
  inputs: ({ details }) => ({ intersystemTermination: details.intersystemTermination }),
  judge: judgeIntersystemTermination,
}

const communications: BondAsked = {
  rule: 'bonding.communications',
  of: 'communications',
  requirement: { ...INTERSYSTEM_TERMINATION, keys: ['bonding.communications'] },
  name: 'Communications bond',
  homeowner: {
    sound: 'Telephone, cable and antenna are tied to the electrical ground.',
    absent:
      'Telephone, cable or antenna are not tied to the electrical ground; in a storm they may differ in voltage.',
    poor: 'The tie between telephone, cable or antenna and the electrical ground should be made better.',
  },
}

export function judgeCommunicationsBond(inputs: BondInputs, context: RuleContext): Verdict {
  return judgeBond(
    communications,
    inputs,
    (material) => ({
      size: COMMUNICATIONS_BOND_LEAST[metalOf(material)],
      article: '250.94',
      row: 'bonding conductor to its source',
    }),
    context,
  )
}

export const communicationsBond: EquipmentRule<'bond', BondInputs> = {
  id: communications.rule,
  title: 'Communications bond',
  kind: 'bond',
  inputs: ({ details }) => bondInputs(details),
  judge: judgeCommunicationsBond,
}
