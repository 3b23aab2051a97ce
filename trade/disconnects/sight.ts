import type { RuleContext } from '../editions.ts'
import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { type Basis, finding, missingOf, onClocks, shortfall, sound, tidy, undetermined } from '../judging.ts'
import { clocksOf, type Requirement } from '../requirement.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'

/** "In sight" = visible and no farther than this. NFPA 70 Article 100. */
export const IN_SIGHT_FEET = 50

/** Visible, near, reachable, not on an access panel nor over the nameplate. */
export const COOLING_DISCONNECT: Requirement = {
  keys: ['disconnects.sight'],
  rows: [
    {
      since: '1978',
      required: true,
      article: '440.14',
      source: 'NFPA 70 440.14; oldest edition from memory',
    },
  ],
  before: 'unknown',
}

export type SightInputs = Pick<
  DetailsOf<'disconnect'>,
  'serves' | 'inSight' | 'distanceFeet' | 'reachable' | 'hidesNameplate'
>

const FIELDS = EQUIPMENT_FIELDS.disconnect
const HOMEOWNER = {
  sound: 'Whoever works on the machine sees the switch that keeps it off.',
  poor: 'Whoever works on the machine cannot see or reach its switch well, so someone could turn it on meanwhile.',
}
/** Other appliances may have a disconnect out of sight that can be locked open. NFPA 70 422.31, from memory. */
const MUST_BE_IN_SIGHT: readonly SightInputs['serves'][] = ['air-conditioner', 'heat-pump', 'hot-tub']

export function judgeSight(inputs: SightInputs, context: RuleContext): Verdict {
  const { serves, distanceFeet } = inputs
  const basis: Basis = onClocks(
    {
      rule: 'disconnects.sight',
      inputs: { ...inputs },
      figures: [
        { label: 'In sight up to', value: IN_SIGHT_FEET, unit: 'ft' },
        ...(distanceFeet == null
          ? []
          : [{ label: FIELDS.distanceFeet.label, value: distanceFeet, unit: 'ft' as const }]),
      ],
    },
    clocksOf(COOLING_DISCONNECT, context),
  )
  const faults = faultsOf(inputs)
  if (faults.length > 0) {
    if (!serves) return undetermined(basis, [FIELDS.serves.label])
    const technician = `Disconnect ${faults.join(', ')}`
    if (MUST_BE_IN_SIGHT.includes(serves)) {
      return shortfall(basis, context, { technician, homeowner: HOMEOWNER.poor })
    }
    return finding(basis, 'investigate', {
      technician: `${technician}: allowed only where it can be locked open.`,
      homeowner: HOMEOWNER.poor,
    })
  }
  const missing = missingOf(FIELDS, inputs, [
    'serves',
    'inSight',
    'distanceFeet',
    'reachable',
    'hidesNameplate',
  ])
  if (missing.length > 0) return undetermined(basis, missing)
  return sound(basis, {
    technician: `Disconnect visible, ${tidy(distanceFeet!)} ft away, ${IN_SIGHT_FEET} ft at most; reachable.`,
    homeowner: HOMEOWNER.sound,
  })
}

function faultsOf({ inSight, distanceFeet, reachable, hidesNameplate }: SightInputs): string[] {
  return [
    inSight === false && 'not visible from the equipment',
    distanceFeet != null &&
      distanceFeet > IN_SIGHT_FEET &&
      `${tidy(distanceFeet)} ft away, ${IN_SIGHT_FEET} ft at most`,
    reachable === false && 'not readily reachable',
    hidesNameplate && 'on an access panel or over the nameplate',
  ].filter((fault): fault is string => Boolean(fault))
}

export const disconnectSight: EquipmentRule<'disconnect', SightInputs> = {
  id: 'disconnects.sight',
  title: 'Disconnect in sight and reachable',
  kind: 'disconnect',
  inputs: ({ details: { serves, inSight, distanceFeet, reachable, hidesNameplate } }) => ({
    serves,
    inSight,
    distanceFeet,
    reachable,
    hidesNameplate,
  }),
  judge: judgeSight,
}
