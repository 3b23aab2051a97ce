import type { RuleContext } from '../editions.ts'
import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { finding, missingOf, notApplicable, onClocks, shortfall, sound, undetermined } from '../judging.ts'
import { clocksOf, type Requirement } from '../requirement.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'

const FIELDS = EQUIPMENT_FIELDS.circuit
const RULE = 'overcurrent.white-as-hot'

const REMARKING: Requirement = {
  keys: [RULE],
  rows: [
    {
      since: '1999',
      required: true,
      article: '200.7(C)(1)',
      row: 're-marked at its ends and wherever it is visible; in cables only',
      source: 'trade forum: explicit since 1999',
    },
  ],
  before: 'no',
}

export type WhiteInputs = Pick<DetailsOf<'circuit'>, 'whiteAsHot' | 'whiteRemarked' | 'wiring'>

/** A white wire may be hot in a cable when it is re-marked; single conductors in a raceway come in the right colour. */
export function judgeWhiteAsHot(inputs: WhiteInputs, context: RuleContext): Verdict {
  const basis = onClocks({ rule: RULE, inputs }, clocksOf(REMARKING, context))
  if (inputs.whiteAsHot == null) return undetermined(basis, missingOf(FIELDS, inputs, ['whiteAsHot']))
  if (!inputs.whiteAsHot) return notApplicable(basis, 'no white wire is used as hot')
  if (inputs.wiring === 'conductors-in-raceway') {
    return finding(basis, 'repair', {
      technician: 'White single conductor used as hot in a raceway; re-marking is for cables only.',
      homeowner:
        'A white wire, whose colour says “return”, is live here. The wire should have another colour.',
    })
  }
  if (inputs.whiteRemarked === false) {
    return shortfall(basis, context, {
      technician: 'White wire used as hot without re-marking',
      homeowner:
        'A white wire, whose colour says “return”, is live here. A band of coloured tape at both ends warns whoever works on it next.',
    })
  }
  const missing = missingOf(FIELDS, inputs, ['whiteRemarked', 'wiring'])
  if (missing.length > 0) return undetermined(basis, missing)
  return sound(basis, {
    technician: 'White wire used as hot is re-marked.',
    homeowner: 'A white wire that is live here is marked so that nobody mistakes it.',
  })
}

export const whiteAsHot: EquipmentRule<'circuit', WhiteInputs> = {
  id: RULE,
  title: 'White wire used as hot',
  kind: 'circuit',
  inputs: ({ details: { whiteAsHot, whiteRemarked, wiring } }) => ({ whiteAsHot, whiteRemarked, wiring }),
  judge: judgeWhiteAsHot,
}
