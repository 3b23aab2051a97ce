import type { Day } from '../dates.ts'
import type { RuleContext } from '../editions.ts'
import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { type Basis, missingOf, onClocks, shortfall, sound, undetermined } from '../judging.ts'
import { clocksOf, type EditionRow, type Requirement, valueIn } from '../requirement.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Required, Verdict } from '../verdict.ts'

const FIELDS = EQUIPMENT_FIELDS.service
const RULE = 'service.emergency-disconnect'

const REQUIREMENT: Requirement = {
  keys: [RULE],
  rows: [
    {
      since: '2020',
      required: true,
      article: '230.85',
      row: 'one- and two-family: outdoors, readily accessible, marked',
      source: 'trade journal on NFPA 70-2020',
    },
    {
      since: '2023',
      required: true,
      article: '230.85',
      row: 'on or within sight of the dwelling; also where service equipment is replaced',
      source: 'notes on NFPA 70-2023',
    },
    {
      since: '2026',
      required: true,
      article: '230.70(A)(1)',
      row: 'moved here; 230.85 deleted',
      source: 'continuing-education note on NFPA 70-2026',
    },
  ],
  before: 'no',
}

/** Whether replacing no more than meter socket, service conductors or raceway called for one. */
const METER_OR_CONDUCTORS_ONLY: readonly EditionRow<Required>[] = [
  { since: '1940', value: 'no', source: 'no such rule yet' },
  { since: '2020', value: 'unknown', source: 'not said in what was seen of NFPA 70-2020' },
  { since: '2023', value: 'no', source: 'NFPA 70-2023 230.85 exception' },
]

/** What the marking reads, as the 2020 edition gave it. */
export const EMERGENCY_MARKINGS = [
  'EMERGENCY DISCONNECT, SERVICE DISCONNECT',
  'EMERGENCY DISCONNECT, METER DISCONNECT, NOT SERVICE EQUIPMENT',
  'EMERGENCY DISCONNECT, NOT SERVICE EQUIPMENT',
] as const

export interface EmergencyInputs extends Pick<DetailsOf<'service'>, 'emergencyDisconnect' | 'lastReplaced'> {
  /** Day of the service as it stands; without it the edition when built is that of the home. */
  installedOn?: Day | null
}

/** A marked switch outdoors that lets firefighters cut the power. */
export function judgeEmergencyDisconnect(inputs: EmergencyInputs, context: RuleContext): Verdict {
  const { emergencyDisconnect: found, lastReplaced, installedOn } = inputs
  const basis: Basis = onClocks({ rule: RULE, inputs: { ...inputs } }, clocksOf(REQUIREMENT, context))
  // Replaced since the home was built, nobody knows when: the edition of the home cannot clear it.
  if (lastReplaced === 'service-equipment' && !installedOn && basis.whenBuilt === 'no') {
    basis.whenBuilt = 'unknown'
  }
  if (lastReplaced === 'meter-or-conductors') {
    basis.whenBuilt = valueIn(METER_OR_CONDUCTORS_ONLY, context.editionWhenBuilt) ?? 'unknown'
  }
  if (!found) return undetermined(basis, missingOf(FIELDS, inputs, ['emergencyDisconnect']))
  if (found === 'present') {
    return sound(basis, {
      technician: 'Outdoor emergency disconnect present and marked.',
      homeowner: 'In an emergency the power can be cut from outside.',
    })
  }
  if (basis.whenBuilt === 'yes' && !lastReplaced) {
    return undetermined(basis, missingOf(FIELDS, inputs, ['lastReplaced']))
  }
  return shortfall(
    basis,
    context,
    found === 'absent'
      ? {
          technician: 'No outdoor emergency disconnect',
          homeowner:
            'New homes have a marked switch outside with which firefighters can cut the power. Yours can get one with the next work on the service.',
        }
      : {
          technician: `Outdoor emergency disconnect not marked (${EMERGENCY_MARKINGS[0]})`,
          homeowner:
            'There is a switch outside that cuts the power, but no sign says so. A label settles it.',
        },
  )
}

export const emergencyDisconnect: EquipmentRule<'service', EmergencyInputs> = {
  id: RULE,
  title: 'Outdoor emergency disconnect',
  kind: 'service',
  inputs: ({ details: { emergencyDisconnect, lastReplaced }, installedOn }) => ({
    emergencyDisconnect,
    lastReplaced,
    installedOn,
  }),
  judge: judgeEmergencyDisconnect,
}
