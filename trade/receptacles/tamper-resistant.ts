import type { RuleContext } from '../editions.ts'
import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { spaceOf } from '../home.ts'
import { notApplicable, onClocks, shortfall, sound, tidy, undetermined } from '../judging.ts'
import type { SpaceKind } from '../property.ts'
import { clocksOf, type Requirement, type RequirementRow } from '../requirement.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'

const RULE = 'receptacles.tamper-resistant'

/** Rooms of 210.52, to which the rule was tied; a lived-in attic and an office count as habitable rooms. */
export const TAMPER_RESISTANT_ROOMS: readonly SpaceKind[] = [
  'bedroom',
  'hall',
  'living',
  'dining',
  'family',
  'kitchen',
  'bathroom',
  'laundry',
  'office',
  'basement-finished',
  'basement-unfinished',
  'attic-habitable',
  'garage',
  'accessory-building',
  'outdoors',
]
/** 15 and 20 A receptacles. NFPA 70 406.12. */
const MAX_AMPS = 20
const ORDINARY_VOLTS = 125
/** Above this height children do not reach: 5 1/2 ft. NFPA 70 406.12 Exception. */
export const OUT_OF_REACH_INCHES = 66

const ordinary: RequirementRow[] = [
  { since: '2008', required: true, article: '406.11', source: 'NFPA 70-2008 406.11' },
  { since: '2011', required: true, article: '406.12', source: 'NFPA 70-2011 406.12' },
]
export const TAMPER_RESISTANT: Requirement = { keys: [RULE], rows: ordinary, before: 'no' }
/** Outbuildings came into 210.52(G), to which the rule is tied, in 2011. */
export const TAMPER_RESISTANT_OUTBUILDING: Requirement = {
  keys: [RULE, `${RULE}/accessory-building`],
  rows: [
    {
      since: '2011',
      required: true,
      article: '406.12',
      row: 'accessory building',
      source: 'NFPA 70-2011 210.52(G), 406.12',
    },
  ],
  before: 'no',
}
export const TAMPER_RESISTANT_250_V: Requirement = {
  keys: [RULE, `${RULE}/250-volt`],
  rows: [{ since: '2017', required: true, article: '406.12', row: '250 V', source: 'NFPA 70-2017 406.12' }],
  before: 'no',
}

export interface TamperInputs extends Pick<
  DetailsOf<'receptacle'>,
  'tamperResistant' | 'slots' | 'volts' | 'amps' | 'heightInches' | 'partOfAppliance' | 'dedicatedAppliance'
> {
  spaceKind: SpaceKind | null
}

/** Why this receptacle needs none in any edition; null where it may need it. Not recorded = not exempt. */
export function tamperExemption(inputs: TamperInputs): string | null {
  const { heightInches, partOfAppliance, dedicatedAppliance, slots, spaceKind, amps } = inputs
  if (spaceKind && !TAMPER_RESISTANT_ROOMS.includes(spaceKind)) return 'no such room is listed'
  if (amps != null && amps > MAX_AMPS) return `rated above ${MAX_AMPS} A`
  if (heightInches != null && heightInches > OUT_OF_REACH_INCHES) {
    return `${tidy(heightInches)} in above the floor, out of reach above ${OUT_OF_REACH_INCHES} in`
  }
  if (partOfAppliance) return 'part of a luminaire or appliance'
  if (dedicatedAppliance) return 'for one appliance that stays put'
  if (slots === 'two') return 'a non-grounding receptacle'
  return null
}

export function tamperRequirement({ volts, spaceKind }: TamperInputs): Requirement {
  if ((volts ?? ORDINARY_VOLTS) > ORDINARY_VOLTS) return TAMPER_RESISTANT_250_V
  return spaceKind === 'accessory-building' ? TAMPER_RESISTANT_OUTBUILDING : TAMPER_RESISTANT
}

export function judgeTamperResistant(inputs: TamperInputs, context: RuleContext): Verdict {
  const basis = onClocks({ rule: RULE, inputs: { ...inputs } }, clocksOf(tamperRequirement(inputs), context))
  const exempt = tamperExemption(inputs)
  if (exempt) return notApplicable({ ...basis, whenBuilt: 'no', today: 'no' }, exempt)
  if (inputs.tamperResistant) {
    return sound(basis, {
      technician: 'Tamper-resistant receptacle.',
      homeowner: 'This outlet has shutters that keep small objects out.',
    })
  }
  const missing = [
    ...(inputs.spaceKind ? [] : ['Room or place']),
    ...(inputs.tamperResistant == null ? [EQUIPMENT_FIELDS.receptacle.tamperResistant.label] : []),
  ]
  const asked = basis.whenBuilt !== 'no' || basis.today !== 'no'
  if (asked && missing.length > 0) return undetermined(basis, missing)
  return shortfall(basis, context, {
    technician: 'Receptacle not tamper-resistant',
    homeowner:
      'This outlet has no shutters that keep a child’s small objects out. A newer one would have them.',
  })
}

export const tamperResistant: EquipmentRule<'receptacle', TamperInputs> = {
  id: RULE,
  title: 'Tamper-resistant receptacle',
  kind: 'receptacle',
  watches: [],
  inputs: (receptacle, home) => {
    const { slots, volts, amps, heightInches, partOfAppliance, dedicatedAppliance } = receptacle.details
    return {
      tamperResistant: receptacle.details.tamperResistant,
      slots,
      volts,
      amps,
      heightInches,
      partOfAppliance,
      dedicatedAppliance,
      spaceKind: spaceOf(home, receptacle)?.kind ?? null,
    }
  },
  judge: judgeTamperResistant,
}
