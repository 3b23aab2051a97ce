import type { DetailsOf } from '../equipment.ts'
import { EQUIPMENT_FIELDS } from '../equipment.ts'
import { type Basis, finding, sound, undetermined } from '../judging.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'
import { SMOKE_LIFE } from './life-figures.ts'

export type ButtonTestInputs = Pick<DetailsOf<'alarm'>, 'buttonTest'>

/** An alarm that stays silent at its button is out of service whatever its age. NFPA 72-2013 §14.4.7.1. */
export function judgeButtonTest({ buttonTest }: ButtonTestInputs): Verdict {
  const basis: Basis = {
    rule: 'alarms.button-test',
    inputs: { buttonTest },
    references: [{ ...SMOKE_LIFE, row: 'replaced where it fails the operability test' }],
    whenBuilt: 'yes',
    today: 'yes',
  }
  if (buttonTest === 'silent') {
    return finding(basis, 'repair', {
      technician:
        'Silent at its test button: replace it now, after trying a new battery where one can be changed.',
      homeowner:
        'This alarm stays silent when it is tested, so it would not warn you. It should be replaced now.',
    })
  }
  if (buttonTest === 'sounds') {
    return sound(basis, {
      technician: 'Sounds at its test button.',
      homeowner: 'This alarm sounds when its button is pressed. Please press it once a month.',
    })
  }
  return undetermined(basis, [EQUIPMENT_FIELDS.alarm.buttonTest.label])
}

export const buttonTest: EquipmentRule<'alarm', ButtonTestInputs> = {
  id: 'alarms.button-test',
  title: 'Test button',
  kind: 'alarm',
  inputs: ({ details }) => ({ buttonTest: details.buttonTest }),
  judge: judgeButtonTest,
}
