import type { RuleContext } from '../editions.ts'
import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { type Basis, finding, missingOf, notApplicable, sound, undetermined } from '../judging.ts'
import { COMMON_PRACTICE } from '../nec.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'

const FIELDS = EQUIPMENT_FIELDS.service
const RULE = 'service.oxide-inhibitor'

export type InhibitorInputs = Pick<DetailsOf<'service'>, 'conductorMaterial' | 'oxideInhibitor'>

/** Compound on aluminium at its lugs keeps oxide from growing. A habit of the trade; a maker's instruction is binding. */
export function judgeOxideInhibitor(inputs: InhibitorInputs, _context: RuleContext): Verdict {
  const basis: Basis = {
    rule: RULE,
    inputs,
    references: [COMMON_PRACTICE],
    // No edition asks for it; a lug maker's instructions may.
    whenBuilt: 'no',
    today: 'no',
  }
  if (inputs.conductorMaterial === 'copper') return notApplicable(basis, 'copper conductors need none')
  const missing = missingOf(FIELDS, inputs, ['conductorMaterial', 'oxideInhibitor'])
  if (missing.length > 0) return undetermined(basis, missing)
  if (inputs.oxideInhibitor === 'present') {
    return sound(basis, {
      technician: 'Oxide inhibitor on the aluminium.',
      homeowner: 'The aluminium wires are treated at their ends, as is usual.',
    })
  }
  if (inputs.oxideInhibitor === 'dried-out') {
    return finding(basis, 'watch', {
      technician: 'Oxide inhibitor on the aluminium dried out; renew with the power off at the utility.',
      homeowner:
        'The paste that protects the aluminium wires at their ends has dried; it is renewed with the next work there.',
    })
  }
  return finding(basis, 'improve', {
    technician: 'No oxide inhibitor on the aluminium; check what the lug’s maker asks for.',
    homeowner:
      'Aluminium wires are usually treated with a paste at their ends, so that the joints stay cool. Here it is missing.',
  })
}

export const oxideInhibitor: EquipmentRule<'service', InhibitorInputs> = {
  id: RULE,
  title: 'Oxide inhibitor on aluminium',
  kind: 'service',
  inputs: ({ details: { conductorMaterial, oxideInhibitor } }) => ({ conductorMaterial, oxideInhibitor }),
  judge: judgeOxideInhibitor,
}
