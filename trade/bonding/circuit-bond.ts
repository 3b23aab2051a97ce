import type { RuleContext } from '../editions.ts'
import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { equipmentConductorFor } from '../grounding/equipment-conductor-table.ts'
import { sound, undetermined } from '../judging.ts'
import type { Requirement } from '../requirement.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'
import { basisOf, type BondAsked, type BondInputs, bondInputs, judgeBond, judgePresence } from './bond.ts'

/** Gas and other metal piping. The grounding conductor of the circuit that may energise it can serve as the bond. */
export const OTHER_PIPING_BOND: Requirement = {
  keys: ['bonding.other-pipe'],
  rows: [
    { since: '1978', required: true, article: '250-80(b)', source: 'from memory' },
    { since: '1999', required: true, article: '250.104(B)', source: 'NFPA 70 250.104(B)' },
  ],
  before: 'unknown',
}

export interface CircuitBondInputs extends BondInputs, Pick<DetailsOf<'bond'>, 'largestCircuitAmps'> {}

/** Bonds sized by the largest circuit likely to energise the piping; NFPA 70 250.104(B) and Table 250.122. */
export function judgeCircuitBond(asked: BondAsked, inputs: CircuitBondInputs, context: RuleContext): Verdict {
  const basis = { ...basisOf(asked, inputs, context), inputs: { ...inputs } }
  const amps = inputs.largestCircuitAmps
  const ampsMissing = [EQUIPMENT_FIELDS.bond.largestCircuitAmps.label]
  if (inputs.of === asked.of && inputs.present === false) {
    if (amps == null) return undetermined(basis, ampsMissing)
    return sound(basis, {
      technician: `${asked.name}: none of its own; the grounding conductor of the ${amps} A circuit may serve.`,
      homeowner: asked.homeowner.sound,
    })
  }
  return judgePresence(asked, inputs, basis, context) ?? judgeSize(asked, inputs, context, ampsMissing)
}

function judgeSize(
  asked: BondAsked,
  inputs: CircuitBondInputs,
  context: RuleContext,
  ampsMissing: string[],
): Verdict {
  return judgeBond(
    asked,
    inputs,
    (material) => {
      const table =
        inputs.largestCircuitAmps == null ? null : equipmentConductorFor(inputs.largestCircuitAmps, material)
      return table ? { ...table, article: 'Table 250.122' } : { missing: ampsMissing }
    },
    context,
  )
}

const otherPiping: BondAsked = {
  rule: 'bonding.other-pipe',
  of: 'other-pipe',
  requirement: OTHER_PIPING_BOND,
  name: 'Bond of other metal piping',
  homeowner: {
    sound: 'Other metal pipes in your home are tied to the electrical system.',
    absent: 'Some metal pipes are not tied to the electrical system; a fault could make them live.',
    poor: 'The tie between some metal pipes and the electrical system should be made better.',
  },
}

export function judgeOtherPipingBond(inputs: CircuitBondInputs, context: RuleContext): Verdict {
  return judgeCircuitBond(otherPiping, inputs, context)
}

export const otherPipingBond: EquipmentRule<'bond', CircuitBondInputs> = {
  id: otherPiping.rule,
  title: 'Bond of other metal piping',
  kind: 'bond',
  inputs: ({ details }) => ({ ...bondInputs(details), largestCircuitAmps: details.largestCircuitAmps }),
  judge: judgeOtherPipingBond,
}
