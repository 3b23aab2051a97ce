import type { RuleContext } from '../editions.ts'
import { EQUIPMENT_FIELDS } from '../equipment.ts'
import { inUse } from '../home.ts'
import { type Clocks, clocksOf, type Requirement } from '../requirement.ts'
import { onClocks, undetermined } from '../judging.ts'
import type { HomeRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'
import type { BondOf } from './bond.ts'
import { CORRUGATED_TUBE_BOND } from './gas.ts'
import { WATER_METER_JUMPER } from './water.ts'

export interface ExpectedBondsInputs {
  /** Null = nobody knows yet. */
  hasGasPiping: boolean | null
  hasWaterPipeElectrode: boolean
  recorded: readonly BondOf[]
}

interface Expectation {
  of: BondOf
  requirement: Requirement
  holds: (inputs: ExpectedBondsInputs) => boolean
}

const EXPECTED: readonly Expectation[] = [
  { of: 'gas-pipe', requirement: CORRUGATED_TUBE_BOND, holds: (inputs) => inputs.hasGasPiping === true },
  { of: 'water-meter', requirement: WATER_METER_JUMPER, holds: (inputs) => inputs.hasWaterPipeElectrode },
]

/** Bonds that such a home should have and that nobody has written down: what is not recorded is not absent. */
export function judgeExpectedBonds(inputs: ExpectedBondsInputs, context: RuleContext): Verdict[] {
  return EXPECTED.filter((each) => each.holds(inputs) && !inputs.recorded.includes(each.of)).map((each) =>
    undetermined(basisOf(inputs, clocksOf(each.requirement, context)), [
      EQUIPMENT_FIELDS.bond.of.options[each.of],
    ]),
  )
}

function basisOf(inputs: ExpectedBondsInputs, clocks: Clocks) {
  const { hasGasPiping, hasWaterPipeElectrode, recorded } = inputs
  return onClocks(
    {
      rule: 'bonding.expected',
      inputs: { hasGasPiping, hasWaterPipeElectrode, recorded: recorded.toSorted().join(', ') },
    },
    clocks,
  )
}

export const expectedBonds: HomeRule<ExpectedBondsInputs> = {
  id: 'bonding.expected',
  title: 'Bonds that this home should have',
  watches: ['bond', 'electrode'],
  inputs: (home) => ({
    hasGasPiping: home.property.hasGasPiping,
    hasWaterPipeElectrode: inUse(home, 'electrode').some(({ details }) => details.kind === 'water-pipe'),
    recorded: inUse(home, 'bond').flatMap(({ details }) => details.of ?? []),
  }),
  judge: judgeExpectedBonds,
}
