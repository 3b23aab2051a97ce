import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { finding, sound, undetermined } from '../judging.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'

export type ClampInputs = Pick<DetailsOf<'electrode'>, 'clamp'>

const CLAMP_WORDS = { loose: 'loose', corroded: 'corroded', missing: 'missing' } as const

/** A clamp that does not hold undoes any electrode, whatever the edition. NFPA 70 250.8 and 250.70 (from memory). */
export function judgeClamp(inputs: ClampInputs): Verdict {
  const basis = {
    rule: 'grounding.electrode-clamp',
    inputs: { ...inputs },
    references: [{ code: 'NFPA 70', article: '250.70' }],
  }
  if (!inputs.clamp) return undetermined(basis, [EQUIPMENT_FIELDS.electrode.clamp.label])
  if (inputs.clamp === 'sound') {
    return sound(basis, {
      technician: 'Electrode clamp sound.',
      homeowner: 'The clamp that holds the earth wire is sound.',
    })
  }
  return finding(basis, 'repair', {
    technician: `Electrode clamp ${CLAMP_WORDS[inputs.clamp]}: the electrode cannot be relied on.`,
    homeowner: 'The clamp that holds the earth wire no longer makes good contact and should be renewed.',
  })
}

export const electrodeClamp: EquipmentRule<'electrode', ClampInputs> = {
  id: 'grounding.electrode-clamp',
  title: 'Clamp at the electrode',
  kind: 'electrode',
  inputs: ({ details }) => ({ clamp: details.clamp }),
  judge: judgeClamp,
}
