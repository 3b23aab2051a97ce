import type { RuleContext } from '../editions.ts'
import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { missingOf, notApplicable, onClocks, shortfall, sound, undetermined } from '../judging.ts'
import { clocksOf, type Requirement } from '../requirement.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'

/** Thermal insulation stays 3 in away from a recessed luminaire that is not identified for contact. */
const CLEAR_INCHES = 3

const INSULATION_CONTACT: Requirement = {
  keys: ['lighting.insulation-contact'],
  before: 'unknown',
  rows: [
    { since: '1984', required: true, article: '410-66', source: 'from memory' },
    { since: '1999', required: true, article: '410.66(B)', source: 'from memory' },
    { since: '2008', required: true, article: '410.116(B)', source: 'from memory' },
  ],
}

export type InsulationInputs = Pick<
  DetailsOf<'luminaire'>,
  'kind' | 'insulationContactRated' | 'touchesInsulation'
>

export function judgeInsulationContact(inputs: InsulationInputs, context: RuleContext): Verdict {
  const { kind, insulationContactRated, touchesInsulation } = inputs
  const basis = onClocks(
    {
      rule: 'lighting.insulation-contact',
      inputs: { ...inputs },
      figures: [{ label: 'Kept clear', value: CLEAR_INCHES, unit: 'in' }],
    },
    clocksOf(INSULATION_CONTACT, context),
  )
  const fields = EQUIPMENT_FIELDS.luminaire
  if (!kind) return undetermined(basis, [fields.kind.label])
  if (kind !== 'recessed') return notApplicable(basis, 'not recessed')
  const fits = (technician: string) =>
    sound(basis, { technician, homeowner: 'This recessed light does not overheat the insulation around it.' })
  if (insulationContactRated) return fits('Rated for contact with insulation.')
  if (touchesInsulation === false) return fits('Insulation is kept clear of it.')
  if (touchesInsulation && insulationContactRated === false) {
    return shortfall(basis, context, {
      technician: `Insulation touches a luminaire not rated for it; ${CLEAR_INCHES} in to be kept clear`,
      homeowner: 'Insulation lies against this recessed light and can make it too hot.',
    })
  }
  return undetermined(basis, missingOf(fields, inputs, ['insulationContactRated', 'touchesInsulation']))
}

export const insulationContact: EquipmentRule<'luminaire', InsulationInputs> = {
  id: 'lighting.insulation-contact',
  title: 'Recessed light and insulation',
  kind: 'luminaire',
  inputs: ({ details: { kind, insulationContactRated, touchesInsulation } }) => ({
    kind,
    insulationContactRated,
    touchesInsulation,
  }),
  judge: judgeInsulationContact,
}
