import { CONDUCTOR_MATERIALS, sizeLabel } from '../conductors/sizes.ts'
import type { RuleContext } from '../editions.ts'
import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { type Basis, finding, missingOf, notApplicable, sound, tidy, undetermined } from '../judging.ts'
import { editionRead, nec } from '../nec.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'
import { ADVISED_BRANCH_PERCENT, expectedDrop } from './expected.ts'

const FIELDS = EQUIPMENT_FIELDS.circuit
const RULE = 'voltage-drop.expected-of-run'

/** Nominal voltages of a 120/240 V service. */
const ONE_POLE_VOLTS = 120
const TWO_POLE_VOLTS = 240

export type RunInputs = Pick<
  DetailsOf<'circuit'>,
  'poles' | 'size' | 'material' | 'stranded' | 'lengthFeet' | 'loadVA' | 'serves'
>

/** What the length of a circuit costs in voltage at the load recorded for it. Advice of the code, never a rule. */
export function judgeRun(inputs: RunInputs, context: RuleContext): Verdict {
  const basis: Basis = {
    rule: RULE,
    inputs,
    references: [nec('210.19', editionRead(context), 'informational note: 3 % on a branch circuit')],
    whenBuilt: 'no',
    today: 'no',
  }
  if (inputs.serves === 'spare') return notApplicable(basis, 'a spare')
  const { poles, size, material, lengthFeet, loadVA } = inputs
  if (poles == null || !size || !material || lengthFeet == null || loadVA == null) {
    return undetermined(
      basis,
      missingOf(FIELDS, inputs, ['poles', 'size', 'material', 'lengthFeet', 'loadVA']),
    )
  }
  const volts = poles > 1 ? TWO_POLE_VOLTS : ONE_POLE_VOLTS
  const amps = loadVA / volts
  const drop = expectedDrop({ volts, amps, feet: lengthFeet, size, material, stranded: inputs.stranded })
  const shown: Basis = {
    ...basis,
    figures: [
      { label: 'Load', value: amps, unit: 'A' },
      { label: 'Expected drop', value: drop.volts, unit: 'V' },
      { label: 'Expected drop in percent', value: drop.percent, unit: 'percent' },
      { label: 'Advised at most', value: ADVISED_BRANCH_PERCENT, unit: 'percent' },
    ],
  }
  const technician = `${lengthFeet} ft of ${sizeLabel(size)} ${CONDUCTOR_MATERIALS[material].toLowerCase()} at ${tidy(amps)} A: ${tidy(drop.volts)} V, ${tidy(drop.percent)} %`
  if (drop.percent <= ADVISED_BRANCH_PERCENT) {
    return sound(shown, {
      technician: `${technician}; ${ADVISED_BRANCH_PERCENT} % advised at most.`,
      homeowner: 'The wire is thick enough for its length: equipment at its end gets the voltage it needs.',
    })
  }
  return finding(shown, 'improve', {
    technician: `${technician}; ${ADVISED_BRANCH_PERCENT} % advised at most.`,
    homeowner:
      'The wire is long for its thickness. Nothing is unsafe, but equipment at its end may run weaker; a thicker wire helps.',
  })
}

export const expectedOfRun: EquipmentRule<'circuit', RunInputs> = {
  id: RULE,
  title: 'Expected voltage drop of the run',
  kind: 'circuit',
  inputs: ({ details: { poles, size, material, stranded, lengthFeet, loadVA, serves } }) => ({
    poles,
    size,
    material,
    stranded,
    lengthFeet,
    loadVA,
    serves,
  }),
  judge: judgeRun,
}
