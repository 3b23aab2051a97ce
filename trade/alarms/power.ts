import type { RuleContext } from '../editions.ts'
import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { missingOf, notApplicable, onClocks, sound, undetermined } from '../judging.ts'
import { clocksOf } from '../requirement.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'
import { CO_POWER, SMOKE_POWER } from './requirements.ts'
import { sensesSmoke } from './senses.ts'
import { alarmShortfall } from './shortfall.ts'

export type PowerInputs = Pick<DetailsOf<'alarm'>, 'senses' | 'power'>

/**
 * New homes: building wiring with a battery behind it. A battery alone stays allowed where finishes are not opened, so
 * it is judged by what held when the home was built.
 */
export function judgePower(inputs: PowerInputs, context: RuleContext): Verdict {
  const { senses, power } = inputs
  const basis = onClocks(
    { rule: 'alarms.power', inputs: { ...inputs } },
    clocksOf(sensesSmoke(senses) ? SMOKE_POWER : CO_POWER, context),
  )
  const missing = missingOf(EQUIPMENT_FIELDS.alarm, inputs, ['senses', 'power'])
  if (missing.length) return undetermined(basis, missing)
  if (senses === 'heat') return notApplicable(basis, 'a heat alarm is an addition of its own')
  if (power === 'mains-and-battery') {
    return sound(basis, {
      technician: 'Building wiring with a battery behind it.',
      homeowner: 'This alarm runs from the wiring and keeps watch on its battery when the power fails.',
    })
  }
  if (power === 'mains') {
    return alarmShortfall(basis, context, {
      technician: 'Hard-wired without a battery: silent when the power fails',
      homeowner: 'This alarm has no battery, so it does not watch while the power is off.',
    })
  }
  return alarmShortfall(basis, context, {
    technician: 'Battery only; allowed in existing rooms whose finishes are not opened',
    homeowner: 'This alarm runs on its battery alone; in new homes it would also be wired.',
  })
}

export const power: EquipmentRule<'alarm', PowerInputs> = {
  id: 'alarms.power',
  title: 'Power of the alarm',
  kind: 'alarm',
  inputs: ({ details: { senses, power } }) => ({ senses, power }),
  judge: judgePower,
}
