import type { RuleContext } from '../editions.ts'
import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { type Basis, onClocks, shortfall, sound, tidy, undetermined } from '../judging.ts'
import { clocksOf, type Requirement } from '../requirement.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'

/** Centre of the grip at its highest: 6 ft 7 in. NFPA 70 240.24(A), from memory. */
export const HIGHEST_HANDLE_INCHES = 79

export const HANDLE_HEIGHT: Requirement = {
  keys: ['panels.handle-height'],
  rows: [{ since: '1999', required: true, article: '240.24(A)', source: 'from memory; 6 ft 6 in before' }],
  before: 'unknown',
}

export type HandleInputs = Pick<DetailsOf<'panel'>, 'topHandleInches'>

export function judgeHandleHeight(inputs: HandleInputs, context: RuleContext): Verdict {
  const inches = inputs.topHandleInches
  const label = EQUIPMENT_FIELDS.panel.topHandleInches.label
  const basis: Basis = onClocks(
    {
      rule: 'panels.handle-height',
      inputs: { ...inputs },
      figures: [
        { label: 'Highest allowed', value: HIGHEST_HANDLE_INCHES, unit: 'in' },
        ...(inches == null ? [] : [{ label, value: inches, unit: 'in' as const }]),
      ],
    },
    clocksOf(HANDLE_HEIGHT, context),
  )
  if (inches == null) return undetermined(basis, [label])
  const what = `Highest handle ${tidy(inches)} in above the floor, ${HIGHEST_HANDLE_INCHES} in at most`
  if (inches <= HIGHEST_HANDLE_INCHES) {
    return sound(basis, { technician: `${what}.`, homeowner: 'All breakers are within reach.' })
  }
  return shortfall(basis, context, {
    technician: what,
    homeowner: 'The highest breaker is hard to reach in a hurry.',
  })
}

export const handleHeight: EquipmentRule<'panel', HandleInputs> = {
  id: 'panels.handle-height',
  title: 'Height of the handles',
  kind: 'panel',
  inputs: ({ details }) => ({ topHandleInches: details.topHandleInches }),
  judge: judgeHandleHeight,
}
