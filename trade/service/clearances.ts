import type { RuleContext } from '../editions.ts'
import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { type Basis, finding, missingOf, notApplicable, sound, undetermined } from '../judging.ts'
import { editionRead, inEveryEdition, nec } from '../nec.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'

const FIELDS = EQUIPMENT_FIELDS.service

type Service = DetailsOf<'service'>
type ClearanceField = 'clearanceRoofFeet' | 'clearanceDriveFeet' | 'clearanceWalkFeet'
type Roof = NonNullable<Service['clearanceRoofKind']>

/**
 * Least clearance in feet of a 120/240 V drop. NFPA 70 230.24(B): 10 ft over walks, for cable on a bare grounded
 * messenger, and 12 ft over residential drives, as quoted in a trade journal.
 */
const OVER_GROUND = { clearanceDriveFeet: 12, clearanceWalkFeet: 10 } as const

/**
 * NFPA 70 230.24(A) and its exceptions 2 and 3, as quoted in a trade journal. A flat roof: 8 ft in older printings,
 * 8 ft 6 in in newer ones (from memory, edition not confirmed), so heights between are left open.
 */
const OVER_ROOF: Readonly<Record<Roof, { least: number; disputedTo?: number; row: string }>> = {
  flat: { least: 8, disputedTo: 8.5, row: 'slope under 4 in 12' },
  steep: { least: 3, row: 'exception 2: slope of 4 in 12 or more' },
  overhang: { least: 1.5, row: 'exception 3: no more than 6 ft of conductor over 4 ft of overhang' },
}

export type ClearanceInputs = Pick<Service, 'supply' | 'clearanceRoofKind'> & { feet?: number }

interface Place {
  id: string
  title: string
  field: ClearanceField
  over: string
}

function judgeHeight(basis: Basis, over: string, feet: number, least: number): Verdict {
  basis.figures = [
    { label: `Clearance over ${over}`, value: feet, unit: 'ft' },
    { label: 'Least clearance', value: least, unit: 'ft' },
  ]
  if (feet >= least) {
    return sound(basis, {
      technician: `Drop ${feet} ft over ${over}: ${least} ft at least.`,
      homeowner: `The wires from the pole hang high enough over the ${over}.`,
    })
  }
  return finding(basis, 'repair', {
    technician: `Drop ${feet} ft over ${over}: ${least} ft at least. The drop is the utility’s; call it in.`,
    homeowner: `The wires from the pole hang low over the ${over}. Keep clear of them; the utility company is to raise them.`,
  })
}

/** Height of the overhead drop over one place. Where the drop is the utility's, its own rules come first. */
export function judgeClearance(place: Place, inputs: ClearanceInputs, context: RuleContext): Verdict {
  const basis: Basis = {
    rule: place.id,
    inputs,
    references: [
      nec(
        place.field === 'clearanceRoofFeet' ? '230.24(A)' : '230.24(B)',
        editionRead(context),
        `over ${place.over}`,
      ),
    ],
    ...inEveryEdition(context),
  }
  if (inputs.supply === 'underground') return notApplicable(basis, 'the service comes in underground')
  const missing = missingOf(FIELDS, inputs, ['supply'])
  if (inputs.feet == null) missing.push(FIELDS[place.field].label)
  if (inputs.feet == null || missing.length > 0) return undetermined(basis, missing)
  if (place.field !== 'clearanceRoofFeet') {
    return judgeHeight(basis, place.over, inputs.feet, OVER_GROUND[place.field])
  }
  return judgeOverRoof(basis, place.over, inputs.feet, inputs.clearanceRoofKind)
}

/** Without the kind of roof only heights beyond every exception can be judged. */
function judgeOverRoof(basis: Basis, over: string, feet: number, kind: Roof | undefined): Verdict {
  const strictest = OVER_ROOF.flat.disputedTo ?? OVER_ROOF.flat.least
  if (feet >= strictest) return judgeHeight(basis, over, feet, strictest)
  if (!kind) {
    const mildest = OVER_ROOF.overhang.least
    if (feet < mildest) return judgeHeight(basis, over, feet, mildest)
    return undetermined(basis, [FIELDS.clearanceRoofKind.label])
  }
  const { least, disputedTo, row } = OVER_ROOF[kind]
  const cited = { ...basis, references: basis.references.map((each) => ({ ...each, row })) }
  if (disputedTo && feet >= least && feet < disputedTo) {
    return undetermined(cited, [
      `Whether the adopted edition asks for ${least} or ${disputedTo} ft over roofs`,
    ])
  }
  return judgeHeight(cited, over, feet, least)
}

function clearanceRule(place: Place): EquipmentRule<'service', ClearanceInputs> {
  return {
    id: place.id,
    title: place.title,
    kind: 'service',
    inputs: ({ details }) => ({
      supply: details.supply,
      feet: details[place.field],
      ...(place.field === 'clearanceRoofFeet' && { clearanceRoofKind: details.clearanceRoofKind }),
    }),
    judge: (inputs, context) => judgeClearance(place, inputs, context),
  }
}

export const OVER_THE_ROOF: Place = {
  id: 'service.clearance-over-roof',
  title: 'Overhead drop over the roof',
  field: 'clearanceRoofFeet',
  over: 'roof',
}
export const OVER_THE_DRIVE: Place = {
  id: 'service.clearance-over-drive',
  title: 'Overhead drop over the drive',
  field: 'clearanceDriveFeet',
  over: 'drive',
}
export const OVER_THE_WALK: Place = {
  id: 'service.clearance-over-walk',
  title: 'Overhead drop over the walk',
  field: 'clearanceWalkFeet',
  over: 'walk',
}

export const clearanceRules = [OVER_THE_ROOF, OVER_THE_DRIVE, OVER_THE_WALK].map(clearanceRule)
