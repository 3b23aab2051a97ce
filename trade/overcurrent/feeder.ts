import type { RuleContext } from '../editions.ts'
import { type DetailsOf, EQUIPMENT_FIELDS, type EquipmentOf } from '../equipment.ts'
import { type Home, inUse } from '../home.ts'
import { missingOf, notApplicable, undetermined } from '../judging.ts'
import { inEveryEdition } from '../nec.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'
import { judgeMain } from './judge-main.ts'
import { anAmps } from './words.ts'

const FIELDS = EQUIPMENT_FIELDS.panel
const RULE = 'overcurrent.feeder-against-conductor'

export type FeederInputs = Pick<
  DetailsOf<'panel'>,
  | 'role'
  | 'feederBreakerAmps'
  | 'feederMaterial'
  | 'feederSize'
  | 'feederTerminalC'
  | 'feederCarriesWholeDwelling'
>

/** The feeder of a sub-panel against its breaker; only a feeder with the whole dwelling on it has the 83 % rule. */
export function judgeFeeder(inputs: FeederInputs, context: RuleContext): Verdict {
  const basis = { rule: RULE, inputs, references: [], ...inEveryEdition(context) }
  if (inputs.role === 'service') return notApplicable(basis, 'the service panel has no feeder')
  const { feederBreakerAmps, feederMaterial, feederSize, feederTerminalC } = inputs
  if (!inputs.role || feederBreakerAmps == null || !feederMaterial || !feederSize) {
    return undetermined(
      basis,
      missingOf(FIELDS, inputs, ['role', 'feederBreakerAmps', 'feederMaterial', 'feederSize']),
    )
  }
  return judgeMain(
    {
      rule: RULE,
      inputs,
      device: `${anAmps(feederBreakerAmps)} feeder breaker`,
      conductors: 'wires to the sub-panel',
      deviceAmps: feederBreakerAmps,
      size: feederSize,
      material: feederMaterial,
      terminalC: !feederTerminalC ? 'unknown' : feederTerminalC === '60' ? 60 : 75,
      underDwellingRule: inputs.feederCarriesWholeDwelling ?? null,
      words: {
        terminalC: FIELDS.feederTerminalC.label,
        underDwellingRule: FIELDS.feederCarriesWholeDwelling.label,
      },
    },
    context,
  )
}

/** What the panel's own record leaves open is read from the circuit that feeds it. */
function feederInputs({ parentId, details }: EquipmentOf<'panel'>, home: Home): FeederInputs {
  const feeding = parentId
    ? inUse(home, 'circuit').find((circuit) => circuit.id === parentId)?.details
    : undefined
  return {
    role: details.role,
    feederBreakerAmps: details.feederBreakerAmps ?? feeding?.ratingAmps,
    feederMaterial: details.feederMaterial ?? feeding?.material,
    feederSize: details.feederSize ?? feeding?.size,
    feederTerminalC: details.feederTerminalC ?? feeding?.terminalC,
    feederCarriesWholeDwelling: details.feederCarriesWholeDwelling,
  }
}

export const feederAgainstConductor: EquipmentRule<'panel', FeederInputs> = {
  id: RULE,
  title: 'Feeder breaker against the feeder',
  kind: 'panel',
  watches: ['circuit'],
  inputs: feederInputs,
  judge: judgeFeeder,
}
