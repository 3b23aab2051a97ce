import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { type Basis, finding, sound, undetermined } from '../judging.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'

export type DisconnectConditionInputs = Pick<DetailsOf<'disconnect'>, 'insideCondition'>

type Fault = Exclude<NonNullable<DisconnectConditionInputs['insideCondition']>, 'clean'>
const FAULTS: Record<Fault, string> = {
  loose: 'loose connections',
  corroded: 'corrosion',
  nest: 'a nest or debris',
}

/** Common practice, no source, beyond NFPA 70 110.12(B), unimpaired internal parts (from memory). */
export function judgeDisconnectCondition(inputs: DisconnectConditionInputs): Verdict {
  const { insideCondition } = inputs
  const basis: Basis = {
    rule: 'disconnects.condition',
    inputs: { ...inputs },
    references: [{ code: 'NFPA 70', article: '110.12(B)' }],
  }
  if (!insideCondition) return undetermined(basis, [EQUIPMENT_FIELDS.disconnect.insideCondition.label])
  if (insideCondition === 'clean') {
    return sound(basis, {
      technician: 'Inside of the disconnect clean and tight.',
      homeowner: 'The switch of the machine is clean and tight inside.',
    })
  }
  return finding(basis, 'repair', {
    technician: `Inside of the disconnect: ${FAULTS[insideCondition]}.`,
    homeowner: 'The switch of the machine needs cleaning and tightening inside before it runs hot.',
  })
}

export const disconnectCondition: EquipmentRule<'disconnect', DisconnectConditionInputs> = {
  id: 'disconnects.condition',
  title: 'Inside of the disconnect',
  kind: 'disconnect',
  inputs: ({ details }) => ({ insideCondition: details.insideCondition }),
  judge: judgeDisconnectCondition,
}
