import { type Day, day } from '../dates.ts'
import { type Edition, type RuleContext } from '../editions.ts'
import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { spaceOf } from '../home.ts'
import { notApplicable, onClocks, shortfall, sound, undetermined } from '../judging.ts'
import type { SpaceKind } from '../property.ts'
import { clocksOf, type EditionRow, type Requirement, type RequirementRow, valueIn } from '../requirement.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'

/** Largest outdoor outlet the rule reaches. NFPA 70-2020 and 2023 210.8(F): 50 A; 2026: 60 A. */
export const OUTDOOR_OUTLET_MAX_AMPS: readonly EditionRow<number>[] = [
  { since: '2020', value: 50, source: 'NFPA 70-2020 210.8(F)' },
  { since: '2026', value: 60, source: 'NFPA 70-2026 210.8(F)' },
]
/** Outlets above this voltage to ground lie outside. NFPA 70 210.8(F). */
export const OUTDOOR_OUTLET_MAX_VOLTS_TO_GROUND = 150

/** Places that count as outdoors for it. Garages and outbuildings since 2023. */
const PLACES: readonly { since: Edition; kinds: readonly SpaceKind[] }[] = [
  { since: '2020', kinds: ['outdoors'] },
  { since: '2023', kinds: ['outdoors', 'garage', 'accessory-building'] },
]

const COOLING = ['air-conditioner', 'heat-pump'] as const

interface Pause {
  edition: Edition
  until: Day
  row: string
  source: string
}
/** Heating and cooling machines were left out for a time. */
const COOLING_PAUSES: readonly Pause[] = [
  {
    edition: '2020',
    until: day('2023-01-01'),
    row: 'TIA 20-13 put off inverter-driven heating and cooling',
    source: 'TIA 20-13',
  },
  {
    edition: '2023',
    until: day('2026-09-01'),
    row: 'exception for listed heating and cooling',
    source: 'NFPA 70-2023 210.8(F) Exception No. 2',
  },
]

export interface OutdoorOutletInputs extends Pick<
  DetailsOf<'disconnect'>,
  'serves' | 'voltsToGround' | 'circuitAmps' | 'groundFaultProtected'
> {
  /** Room or place of the disconnect; null where it is not recorded. */
  place: SpaceKind | null
}

const RULE = 'ground-fault.outdoor-outlet'

/** 210.8(F) as it bears on one outlet: its rating, its place and the pauses for heating and cooling applied. */
export function outdoorOutletRequirement(inputs: OutdoorOutletInputs): Requirement {
  const cooling = COOLING.some((each) => each === inputs.serves)
  return {
    keys: [RULE, ...(cooling ? [`${RULE}/heating-and-cooling`] : [])],
    rows: EDITIONS_WITH_IT.flatMap((since) => rowsOf(since, cooling, inputs)),
    before: 'no',
  }
}
const EDITIONS_WITH_IT: readonly Edition[] = ['2020', '2023', '2026']

function rowsOf(since: Edition, cooling: boolean, inputs: OutdoorOutletInputs): RequirementRow[] {
  const row = { since, article: '210.8(F)', source: 'NFPA 70 210.8(F)' }
  const maxAmps = valueIn(OUTDOOR_OUTLET_MAX_AMPS, since)!
  const place = PLACES.findLast((each) => each.since <= since)!
  if (inputs.circuitAmps! > maxAmps) return [{ ...row, required: false, row: `above ${maxAmps} A` }]
  if (!place.kinds.includes(inputs.place!)) return [{ ...row, required: false, row: 'not outdoors' }]
  const asked = { ...row, required: true, row: `outdoor outlet up to ${maxAmps} A, 150 V to ground` }
  const pause = cooling ? COOLING_PAUSES.find((each) => each.edition === since) : undefined
  return pause
    ? [
        { ...row, required: false, row: pause.row },
        { ...asked, effectiveOn: pause.until },
      ]
    : [asked]
}

export function judgeOutdoorOutlet(inputs: OutdoorOutletInputs, context: RuleContext): Verdict {
  const { place, circuitAmps, voltsToGround, groundFaultProtected } = inputs
  const bare = { rule: RULE, inputs: { ...inputs } }
  if (groundFaultProtected) {
    return sound(
      { ...bare, references: [{ code: 'NFPA 70', article: '210.8(F)' }] },
      {
        technician: 'Outdoor outlet ground-fault protected.',
        homeowner: 'The machine outdoors is protected against shock from leaking current.',
      },
    )
  }
  const missing = [
    ...(place ? [] : ['Room or place']),
    ...(circuitAmps == null ? [EQUIPMENT_FIELDS.disconnect.circuitAmps.label] : []),
    ...(voltsToGround == null ? [EQUIPMENT_FIELDS.disconnect.voltsToGround.label] : []),
    ...(inputs.serves ? [] : [EQUIPMENT_FIELDS.disconnect.serves.label]),
  ]
  if (missing.length > 0)
    return undetermined({ ...bare, references: [{ code: 'NFPA 70', article: '210.8(F)' }] }, missing)
  const basis = onClocks(
    {
      ...bare,
      figures: [
        { label: EQUIPMENT_FIELDS.disconnect.circuitAmps.label, value: circuitAmps!, unit: 'A' },
        { label: EQUIPMENT_FIELDS.disconnect.voltsToGround.label, value: voltsToGround!, unit: 'V' },
      ],
    },
    clocksOf(outdoorOutletRequirement(inputs), context),
  )
  if (voltsToGround! > OUTDOOR_OUTLET_MAX_VOLTS_TO_GROUND) {
    return notApplicable(
      { ...basis, whenBuilt: 'no', today: 'no' },
      `more than ${OUTDOOR_OUTLET_MAX_VOLTS_TO_GROUND} V to ground`,
    )
  }
  if (groundFaultProtected == null && (basis.whenBuilt !== 'no' || basis.today !== 'no')) {
    return undetermined(basis, [EQUIPMENT_FIELDS.disconnect.groundFaultProtected.label])
  }
  return shortfall(basis, context, {
    technician: `Outdoor outlet of ${circuitAmps} A without ground-fault protection`,
    homeowner: 'The machine outdoors has no protection against shock from leaking current. It can be added.',
  })
}

export const outdoorOutlet: EquipmentRule<'disconnect', OutdoorOutletInputs> = {
  id: RULE,
  title: 'Ground-fault protection of the outdoor outlet',
  kind: 'disconnect',
  watches: [],
  inputs: (disconnect, home) => {
    const { serves, voltsToGround, circuitAmps, groundFaultProtected } = disconnect.details
    return {
      serves,
      voltsToGround,
      circuitAmps,
      groundFaultProtected,
      place: spaceOf(home, disconnect)?.kind ?? null,
    }
  },
  judge: judgeOutdoorOutlet,
}
