import { type Day, latest } from '../dates.ts'
import type { RuleContext } from '../editions.ts'
import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { type Home, inUse } from '../home.ts'
import { type Basis, missingOf, onClocks, shortfall, sound, undetermined } from '../judging.ts'
import { clocksOf, type EditionRow, type Requirement, rowIn, valueIn } from '../requirement.ts'
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
  { since: '2020', value: 'unknown', source: 'NFPA 70-2020 230.85 does not speak of replacement' },
  { since: '2023', value: 'no', source: 'NFPA 70-2023 230.85(C) exception' },
]
/** Whether replacing the service equipment of a home that had none called for one. */
const SERVICE_EQUIPMENT: readonly EditionRow<Required>[] = [
  { since: '2020', value: 'unknown', source: 'NFPA 70-2020 230.85 does not speak of replacement' },
  { since: '2023', value: 'yes', source: 'NFPA 70-2023 230.85(C)' },
]

/** What the marking reads, as the 2020 edition gave it. */
export const EMERGENCY_MARKINGS = [
  'EMERGENCY DISCONNECT, SERVICE DISCONNECT',
  'EMERGENCY DISCONNECT, METER DISCONNECT, NOT SERVICE EQUIPMENT',
  'EMERGENCY DISCONNECT, NOT SERVICE EQUIPMENT',
] as const

export interface EmergencyInputs extends Pick<DetailsOf<'service'>, 'emergencyDisconnect' | 'lastReplaced'> {
  /** Day of the service equipment as it stands; without it the edition when built is that of the home. */
  equipmentInstalledOn?: Day | null
}

/** A marked switch outdoors that lets firefighters cut the power. */
export function judgeEmergencyDisconnect(inputs: EmergencyInputs, context: RuleContext): Verdict {
  const { emergencyDisconnect: found, lastReplaced } = inputs
  const basis: Basis = onClocks({ rule: RULE, inputs: { ...inputs } }, clocksOf(REQUIREMENT, context))
  basis.whenBuilt = askedWhenReplaced(inputs, context, basis.whenBuilt!)
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

/** What was asked of the part that was replaced last, where `asBuilt` is the answer for new work of that day. */
function askedWhenReplaced(
  { lastReplaced, equipmentInstalledOn }: EmergencyInputs,
  { editionNow, editionWhenBuilt }: RuleContext,
  asBuilt: Required,
): Required {
  if (lastReplaced === 'meter-or-conductors') {
    return valueIn(METER_OR_CONDUCTORS_ONLY, editionWhenBuilt) ?? 'unknown'
  }
  if (lastReplaced !== 'service-equipment') return asBuilt
  if (equipmentInstalledOn) {
    return asBuilt === 'yes' ? (valueIn(SERVICE_EQUIPMENT, editionWhenBuilt) ?? asBuilt) : asBuilt
  }
  // Replaced since the home was built, nobody knows when: the edition of the home cannot clear it.
  const isEverAsked = !editionNow || rowIn(REQUIREMENT, editionNow) !== null
  return asBuilt === 'no' && isEverAsked ? 'unknown' : asBuilt
}

/** A service panel newer than the service was put in since. Of several services nobody knows which one feeds it. */
function newestPanel(home: Home): Day | null {
  if (inUse(home, 'service').length > 1) return null
  const panels = inUse(home, 'panel').filter(({ details }) => details.role === 'service')
  return latest(...panels.map(({ installedOn }) => installedOn))
}

export const emergencyDisconnect: EquipmentRule<'service', EmergencyInputs> = {
  id: RULE,
  title: 'Outdoor emergency disconnect',
  kind: 'service',
  watches: ['panel', 'service'],
  inputs: ({ details: { emergencyDisconnect, lastReplaced }, installedOn }, home) => ({
    emergencyDisconnect,
    lastReplaced,
    equipmentInstalledOn:
      lastReplaced === 'meter-or-conductors' ? installedOn : latest(installedOn, newestPanel(home)),
  }),
  installedOn: ({ equipmentInstalledOn = null }) => equipmentInstalledOn,
  judge: judgeEmergencyDisconnect,
}
