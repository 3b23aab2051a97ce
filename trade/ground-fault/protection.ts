import type { RuleContext } from '../editions.ts'
import { EQUIPMENT_FIELDS } from '../equipment.ts'
import { equipmentIn } from '../home.ts'
import { type Basis, EDITION_MISSING, notApplicable, shortfall, sound, undetermined } from '../judging.ts'
import { SPACE_KINDS } from '../property.ts'
import { type Clocks, clocksOf, strictest, uniqueReferences } from '../requirement.ts'
import type { SpaceRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'
import { placesOf, placesOfRoom, type ReceptacleFacts, type SpaceFacts } from './place-of.ts'
import { GROUND_FAULT_RULE, groundFaultRequirement } from './places.ts'
import { receptacleClocks } from './receptacle-requirement.ts'

export interface ProtectionInputs {
  space: SpaceFacts
  receptacles: readonly (ReceptacleFacts & { label: string })[]
}

type Judged = ProtectionInputs['receptacles'][number] & { clocks: Clocks }

/** Protection of one room or place from the receptacles recorded in it. Their order does not matter. */
export function judgeProtection(inputs: ProtectionInputs, context: RuleContext): Verdict {
  const { space } = inputs
  const receptacles: Judged[] = inputs.receptacles
    .filter((each) => placesOf(space, each).length > 0)
    .toSorted((a, b) => (a.label < b.label ? -1 : 1))
    .map((each) => Object.assign({ clocks: receptacleClocks(space, each, context) }, each))
  const room = SPACE_KINDS[space.kind]
  const basis = (of: readonly Judged[]): Basis => basisOf(inputs, of, context)
  if (receptacles.length === 0) {
    return undetermined(basis([]), [`Receptacles of the ${room.toLowerCase()} and what protects them`])
  }
  const bare = receptacles.filter((each) => each.groundFault === 'none')
  const wanting = bare.filter(({ clocks }) => clocks.whenBuilt === 'yes' || clocks.today === 'yes')
  if (wanting.length > 0) {
    return shortfall(basis(wanting), context, {
      technician: `${room}: ${wanting.length} of ${receptacles.length} receptacles without ground-fault protection (${wanting.map((each) => each.label).join(', ')})${firstAsked(space, wanting, context)}`,
      homeowner: `Some outlets in the ${room.toLowerCase()} have no protection against shock from leaking current. Adding it is simple.`,
    })
  }
  const unknown = receptacles.filter(
    ({ groundFault, clocks }) => !groundFault && strictest([clocks.whenBuilt, clocks.today]) !== 'no',
  )
  if (unknown.length > 0) {
    return undetermined(basis(unknown), [
      `${EQUIPMENT_FIELDS.receptacle.groundFault.label} (${unknown.map((each) => each.label).join(', ')})`,
    ])
  }
  const open = bare.filter(({ clocks }) => strictest([clocks.whenBuilt, clocks.today]) === 'unknown')
  if (open.length > 0) {
    return undetermined(basis(open), [EDITION_MISSING])
  }
  const guarded = receptacles.filter((each) => each.groundFault && each.groundFault !== 'none')
  if (guarded.length === 0) return notApplicable(basis(receptacles), 'no edition in force asks for it here')
  return sound(basis(receptacles), {
    technician: `${room}: ${guarded.length} of ${receptacles.length} receptacles ground-fault protected, the rest need none.`,
    homeowner: `The outlets in the ${room.toLowerCase()} that need protection against shock have it.`,
  })
}

function basisOf(inputs: ProtectionInputs, of: readonly Judged[], context: RuleContext): Basis {
  const clocks = of.length > 0 ? of.map((each) => each.clocks) : roomClocks(inputs.space, context)
  const { kind, hasSink, hasTubOrShower } = inputs.space
  const bare = inputs.receptacles.filter((each) => each.groundFault === 'none').length
  return {
    rule: GROUND_FAULT_RULE,
    inputs: {
      space: kind,
      hasSink,
      hasTubOrShower,
      receptacles: inputs.receptacles.length,
      unprotected: bare,
    },
    references: uniqueReferences(clocks.flatMap((each) => each.references)),
    figures: [
      { label: 'Receptacles', value: inputs.receptacles.length, unit: 'count' },
      { label: 'Without protection', value: bare, unit: 'count' },
    ],
    whenBuilt: strictest(clocks.map((each) => each.whenBuilt)),
    today: strictest(clocks.map((each) => each.today)),
  }
}

export function roomClocks(space: SpaceFacts, context: RuleContext): Clocks[] {
  return placesOfRoom(space).map((place) => clocksOf(groundFaultRequirement(place), context))
}

/** `; first asked for in the 1975 edition`, where the home is older than that. */
function firstAsked(space: SpaceFacts, wanting: readonly Judged[], context: RuleContext): string {
  const edition = context.editionWhenBuilt
  const first = wanting
    .flatMap((each) => placesOf(space, each))
    .flatMap((place) => groundFaultRequirement(place).rows.find((row) => row.required)?.since ?? [])
    .toSorted()[0]
  return edition && first && edition < first ? `; first asked for in the ${first} edition` : ''
}

export const protection: SpaceRule<ProtectionInputs> = {
  id: GROUND_FAULT_RULE,
  title: 'Ground-fault protection of this place',
  watches: ['receptacle'],
  inputs: (space, home) => {
    const receptacles = equipmentIn(home, space.id).flatMap((each) =>
      each.kind === 'receptacle' ? Object.assign(factsOf(each.details), { label: each.label }) : [],
    )
    const facts = { kind: space.kind, hasSink: space.hasSink, hasTubOrShower: space.hasTubOrShower }
    const concerned =
      placesOfRoom(facts).length > 0 || receptacles.some((each) => placesOf(facts, each).length > 0)
    return concerned ? { space: facts, receptacles } : null
  },
  judge: judgeProtection,
}

function factsOf(details: ReceptacleFacts): ReceptacleFacts {
  const { place, volts, amps, heightInches, dedicatedAppliance, partOfAppliance } = details
  const { groundFault, replacedOnOrAfterBuild } = details
  return {
    place,
    volts,
    amps,
    heightInches,
    dedicatedAppliance,
    partOfAppliance,
    groundFault,
    replacedOnOrAfterBuild,
  }
}
