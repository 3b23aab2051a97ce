import type { RuleContext } from '../editions.ts'
import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { missingOf, notApplicable, onClocks, shortfall, sound, undetermined } from '../judging.ts'
import { clocksOf, type Requirement } from '../requirement.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'

const FIELDS = EQUIPMENT_FIELDS.circuit
const RULE = 'overcurrent.multiwire-disconnect'

const REQUIREMENT: Requirement = {
  keys: [RULE],
  rows: [
    {
      since: '2008',
      required: true,
      article: '210.4(B)',
      row: 'all ungrounded conductors disconnected together; 240.15(B)(1) for handle ties',
      source: 'article from a trade journal; that it came with 2008 from memory',
    },
  ],
  before: 'no',
}

export type MultiwireInputs = Pick<DetailsOf<'circuit'>, 'multiwire' | 'poles' | 'handlesTied'>

/** Circuits that share a neutral are switched off together: a two-pole breaker or an identified handle tie. */
export function judgeMultiwire(inputs: MultiwireInputs, context: RuleContext): Verdict {
  const basis = onClocks({ rule: RULE, inputs }, clocksOf(REQUIREMENT, context))
  if (inputs.multiwire == null) return undetermined(basis, missingOf(FIELDS, inputs, ['multiwire']))
  if (!inputs.multiwire) return notApplicable(basis, 'the circuit has a neutral of its own')
  if ((inputs.poles ?? 0) > 1) {
    return sound(basis, {
      technician: `Multiwire on a ${inputs.poles}-pole breaker: all its hot wires switch off together.`,
      homeowner: 'The two halves of this circuit switch off together, as they should.',
    })
  }
  if (inputs.handlesTied) {
    return sound(basis, {
      technician: 'Multiwire on tied handles: all its hot wires switch off together.',
      homeowner: 'The two halves of this circuit switch off together, as they should.',
    })
  }
  const missing = missingOf(FIELDS, inputs, ['poles', 'handlesTied'])
  if (missing.length > 0) return undetermined(basis, missing)
  return shortfall(basis, context, {
    technician: 'Multiwire on single-pole breakers without a handle tie',
    homeowner:
      'Two breakers share one return wire. With only one of them off, a wire in a box can still be live; tying the two handles together cures that.',
  })
}

export const multiwireDisconnect: EquipmentRule<'circuit', MultiwireInputs> = {
  id: RULE,
  title: 'Multiwire circuit switched off together',
  kind: 'circuit',
  inputs: ({ details: { multiwire, poles, handlesTied } }) => ({ multiwire, poles, handlesTied }),
  judge: judgeMultiwire,
}
