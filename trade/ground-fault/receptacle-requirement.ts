import type { Edition, RuleContext } from '../editions.ts'
import {
  type Clocks,
  clocksOf,
  type Requirement,
  type RequirementRow,
  rowIn,
  strictest,
  uniqueReferences,
  valueIn,
} from '../requirement.ts'
import type { Required } from '../verdict.ts'
import { placesOf, type ReceptacleFacts, type SpaceFacts } from './place-of.ts'
import {
  type Covered,
  type Exemption,
  EXEMPTIONS,
  type GroundFaultPlace,
  groundFaultRequirement,
  RECEPTACLES_COVERED,
} from './places.ts'

/** Taken where the record does not say otherwise: an ordinary receptacle. Common practice, no source. */
const ORDINARY = { volts: 125, amps: 20 }

const alreadyMade = new Map<string, Requirement>()

/** The requirement of a place as it bears on one receptacle: its rating and the exemptions of each edition applied. */
export function requirementFor(place: GroundFaultPlace, receptacle: ReceptacleFacts): Requirement {
  const covered = RECEPTACLES_COVERED.map((row) => isCovered(row.value, receptacle))
  const exemptions = EXEMPTIONS.filter((each) => each.places.includes(place) && applies(each, receptacle))
  const key = [place, ...covered, ...exemptions.map((each) => each.row)].join('|')
  let made = alreadyMade.get(key)
  if (!made) alreadyMade.set(key, (made = makeRequirement(place, receptacle, exemptions)))
  return made
}

function makeRequirement(
  place: GroundFaultPlace,
  receptacle: ReceptacleFacts,
  exemptions: readonly Exemption[],
): Requirement {
  const requirement = groundFaultRequirement(place)
  const editions = new Set<Edition>([
    ...requirement.rows.map((row) => row.since),
    ...RECEPTACLES_COVERED.map((row) => row.since),
    ...exemptions.flatMap((each) => (each.until ? [each.since, each.until] : [each.since])),
  ])
  return {
    ...requirement,
    rows: [...editions].toSorted().flatMap((edition) => {
      const row = rowIn(requirement, edition)
      return row ? rowsFor(row, edition, receptacle, exemptions) : []
    }),
  }
}

function rowsFor(
  row: RequirementRow,
  edition: Edition,
  receptacle: ReceptacleFacts,
  exemptions: readonly Exemption[],
): RequirementRow[] {
  // A delay belongs to the edition that printed it; later editions took effect after it.
  const { effectiveOn, ...lasting } = row
  const here = { ...lasting, since: edition, ...(edition === row.since && effectiveOn && { effectiveOn }) }
  if (!isCovered(valueIn(RECEPTACLES_COVERED, edition)!, receptacle))
    return [{ ...here, required: false, row: 'rating not on the list' }]
  const exempt = exemptions.find(
    (each) => edition >= each.since && (each.until === null || edition < each.until),
  )
  return exempt ? [{ ...here, required: false, row: exempt.row }] : [here]
}

function isCovered(covered: Covered, { volts, amps }: ReceptacleFacts): boolean {
  return (volts ?? ORDINARY.volts) <= covered.maxVolts && (amps ?? ORDINARY.amps) <= covered.maxAmps
}

function applies(exemption: Exemption, { dedicatedAppliance, partOfAppliance }: ReceptacleFacts): boolean {
  return Boolean(exemption.when === 'dedicated-appliance' ? dedicatedAppliance : partOfAppliance)
}

/** Both clocks of a receptacle over all places it stands in: one place that asks is enough. */
export function receptacleClocks(
  space: SpaceFacts,
  receptacle: ReceptacleFacts,
  context: RuleContext,
): Clocks {
  const places = placesOf(space, receptacle)
  const clocks = places.map((place) => clocksOf(requirementFor(place, receptacle), context))
  const whenBuilt = strictest(clocks.map((each) => each.whenBuilt))
  return {
    whenBuilt: beforeReplacement(atUnknownHeight(whenBuilt, space, receptacle, context), receptacle),
    today: strictest(clocks.map((each) => each.today)),
    references: uniqueReferences(clocks.flatMap((each) => each.references)),
  }
}

/** Outdoors, where nobody measured the height, editions that asked only within reach of the ground stay unknown. */
function atUnknownHeight(
  whenBuilt: Required,
  space: SpaceFacts,
  receptacle: ReceptacleFacts,
  context: RuleContext,
): Required {
  if (whenBuilt !== 'no' || space.kind !== 'outdoors' || receptacle.heightInches != null) return whenBuilt
  const inReach = clocksOf(requirementFor('outdoors-at-grade', receptacle), context).whenBuilt
  return inReach === 'no' ? 'no' : 'unknown'
}

/** A replacement follows the edition of its own day (406.4(D)(3), since 1993), which is not on the record. */
function beforeReplacement(whenBuilt: Required, receptacle: ReceptacleFacts): Required {
  return whenBuilt === 'no' && receptacle.replacedOnOrAfterBuild ? 'unknown' : whenBuilt
}
