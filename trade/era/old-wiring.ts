import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { type Basis, finding, sound, undetermined } from '../judging.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'

export type OldWiringInputs = Pick<DetailsOf<'circuit'>, 'wiring' | 'addedOutlets'>

/** Wiring methods that age: what is seen in the panel says little of the attic, so somebody has to look further. */
export function judgeOldWiring(inputs: OldWiringInputs): Verdict {
  const { wiring, addedOutlets } = inputs
  const basis: Basis = {
    rule: 'era.old-wiring',
    inputs: { ...inputs },
    references: [
      { code: 'NFPA 73', article: 'cables and conductors', row: 'existing dwellings, accessible parts' },
    ],
    whenBuilt: 'no',
    today: 'no',
  }
  if (!wiring) return undetermined(basis, [EQUIPMENT_FIELDS.circuit.wiring.label])
  if (wiring === 'knob-and-tube') {
    const added = addedOutlets ? ' Outlets were added to it: look at every splice.' : ''
    return finding(basis, 'investigate', {
      technician: `Knob and tube: look for insulation round it, splices and overfusing.${added}`,
      homeowner:
        'This circuit is of a very old kind; where it runs and how it was changed should be looked at.',
    })
  }
  if (wiring === 'cloth') {
    return finding(basis, 'watch', {
      technician: 'Cloth or rubber insulation: move it as little as possible and look for cracks.',
      homeowner: 'The insulation of this circuit is of an old kind that becomes brittle with time.',
    })
  }
  return sound(basis, {
    technician: 'No wiring method that ages early.',
    homeowner: 'The cable of this circuit is of a kind that lasts.',
  })
}

export const oldWiring: EquipmentRule<'circuit', OldWiringInputs> = {
  id: 'era.old-wiring',
  title: 'Wiring method of an early time',
  kind: 'circuit',
  inputs: ({ details: { wiring, addedOutlets } }) => ({ wiring, addedOutlets }),
  judge: judgeOldWiring,
}
