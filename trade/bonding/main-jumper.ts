import type { RuleContext } from '../editions.ts'
import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { finding, onClocks, sound, undetermined } from '../judging.ts'
import { clocksOf, type Requirement } from '../requirement.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'

export const MAIN_BONDING_JUMPER: Requirement = {
  keys: ['bonding.main-jumper'],
  rows: [
    { since: '1978', required: true, article: '250-53(b)', source: 'from memory' },
    { since: '1999', required: true, article: '250.24(B)', source: 'from memory' },
  ],
  before: 'unknown',
}

export type MainJumperInputs = Pick<DetailsOf<'service'>, 'mainBondingJumper'>

/** Without it no fault to metal draws enough current to trip a breaker, so its absence is a danger in any edition. */
export function judgeMainJumper(inputs: MainJumperInputs, context: RuleContext): Verdict {
  const basis = onClocks(
    { rule: 'bonding.main-jumper', inputs: { ...inputs } },
    clocksOf(MAIN_BONDING_JUMPER, context),
  )
  if (inputs.mainBondingJumper == null) {
    return undetermined(basis, [EQUIPMENT_FIELDS.service.mainBondingJumper.label])
  }
  if (inputs.mainBondingJumper) {
    return sound(basis, {
      technician: 'Main bonding jumper in place at the service.',
      homeowner: 'The link that lets breakers trip on a fault is in place.',
    })
  }
  return finding(basis, 'unsafe', {
    technician: 'No main bonding jumper at the service: a ground fault will not trip a breaker.',
    homeowner:
      'A link that lets breakers trip when metal becomes live is missing. It should be put in before anything else.',
  })
}

export const mainJumper: EquipmentRule<'service', MainJumperInputs> = {
  id: 'bonding.main-jumper',
  title: 'Main bonding jumper',
  kind: 'service',
  inputs: ({ details }) => ({ mainBondingJumper: details.mainBondingJumper }),
  judge: judgeMainJumper,
}
