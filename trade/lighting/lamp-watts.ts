import type { RuleContext } from '../editions.ts'
import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { type Basis, finding, missingOf, sound, tidy, undetermined } from '../judging.ts'
import { editionRead, inEveryEdition, nec } from '../nec.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'

export type LampWattsInputs = Pick<DetailsOf<'luminaire'>, 'lampWatts' | 'markedMaxWatts' | 'condition'>

/** A lamp stronger than the marking bakes the socket and the wires behind it. Listed equipment is used as marked. */
export function judgeLampWatts(inputs: LampWattsInputs, context: RuleContext): Verdict {
  const { lampWatts, markedMaxWatts, condition } = inputs
  const clocks = inEveryEdition(context)
  const basis: Basis = {
    rule: 'lighting.lamp-watts',
    inputs: { ...inputs },
    references: [nec('110.3(B)', editionRead(context), 'used as its marking says; from memory')],
    figures: [],
    ...clocks,
  }
  if (condition === 'overheated') {
    return finding(basis, 'repair', {
      technician:
        'Heat marks on the luminaire: find out whether lamp, insulation or a loose joint made them.',
      homeowner: 'This light fitting has been too hot and should be repaired before it is used much more.',
    })
  }
  const missing = missingOf(EQUIPMENT_FIELDS.luminaire, inputs, ['lampWatts', 'markedMaxWatts'])
  if (lampWatts === undefined || markedMaxWatts === undefined) return undetermined(basis, missing)
  basis.figures = [
    { label: 'Lamp', value: lampWatts, unit: 'W' },
    { label: 'Marked maximum', value: markedMaxWatts, unit: 'W' },
  ]
  const what = `${tidy(lampWatts)} W where ${tidy(markedMaxWatts)} W is marked`
  if (lampWatts > markedMaxWatts) {
    return finding(basis, 'repair', {
      technician: `${what}: fit a weaker lamp.`,
      homeowner:
        'The lamp is stronger than this fitting allows and heats its wires; a weaker one puts it right.',
    })
  }
  return sound(basis, { technician: `${what}.`, homeowner: 'The lamp suits the fitting.' })
}

export const lampWatts: EquipmentRule<'luminaire', LampWattsInputs> = {
  id: 'lighting.lamp-watts',
  title: 'Lamp against the marking',
  kind: 'luminaire',
  inputs: ({ details: { lampWatts, markedMaxWatts, condition } }) => ({
    lampWatts,
    markedMaxWatts,
    condition,
  }),
  judge: judgeLampWatts,
}
