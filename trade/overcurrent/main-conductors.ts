import { AMPACITY_ARTICLE } from '../conductors/ampacity-tables.ts'
import { ampacity } from '../conductors/ampacity.ts'
import {
  DWELLING_ARTICLE,
  dwellingAmpsNeeded,
  DWELLING_RULE,
  dwellingRuleCovers,
} from '../conductors/dwelling.ts'
import { terminalColumn } from '../conductors/run.ts'
import {
  CONDUCTOR_MATERIALS,
  type ConductorMaterial,
  type ConductorSize,
  sizeLabel,
} from '../conductors/sizes.ts'
import { SMALL_CONDUCTOR_ARTICLE, smallConductorLimit } from '../conductors/small-conductors.ts'
import type { Edition } from '../editions.ts'
import { nec } from '../nec.ts'
import type { Figure, Reference } from '../verdict.ts'
import { largestDeviceAmps, standardRatingUpTo } from './standard-ratings.ts'

/** The large conductors of a home: of a service, or of the feeder to a sub-panel. */
export interface MainConductors {
  deviceAmps: number
  size: ConductorSize
  material: ConductorMaterial
  /** As marked; null = not marked. No breaker or panel is listed above 75 °C, so a 90 °C mark counts as 75. */
  terminalC: 60 | 75 | null
  /** They carry the whole load of the dwelling, and no correction or adjustment applies to them. */
  underDwellingRule: boolean
}

export interface MainProtection {
  ampacityAmps: number
  permittedAmps: number
  /** `permittedAmps` rounded down to a standard rating. */
  largestDevice: number
  decidedBy: 'ampacity' | 'next-size-up' | 'dwelling-rule' | 'small-conductor'
}

/** Largest device: ampacity, next size up, the dwelling rule where it covers them, the limit of small conductors. */
export function mainProtection(conductors: MainConductors, edition: Edition): MainProtection {
  const { deviceAmps, size, material } = conductors
  const column = terminalColumn(conductors.terminalC, size, deviceAmps)
  const amps = ampacity(size, material, column, edition) ?? 0
  const byAmpacity = largestDeviceAmps(amps, { feedsSeveralReceptacles: false }, edition)
  const dwellingAmps = ampacity(size, material, DWELLING_RULE.columnC, edition) ?? 0
  const byDwellingRule =
    conductors.underDwellingRule &&
    column === DWELLING_RULE.columnC &&
    dwellingRuleCovers(deviceAmps, edition) &&
    dwellingAmps >= dwellingAmpsNeeded(deviceAmps)
  const decided = (permittedAmps: number, decidedBy: MainProtection['decidedBy']): MainProtection => ({
    ampacityAmps: amps,
    permittedAmps,
    largestDevice: standardRatingUpTo(permittedAmps, edition) ?? permittedAmps,
    decidedBy,
  })
  const limit = smallConductorLimit(size, material, edition)
  if (limit !== null && limit < byAmpacity) return decided(limit, 'small-conductor')
  if (byDwellingRule && deviceAmps > byAmpacity) return decided(deviceAmps, 'dwelling-rule')
  return decided(byAmpacity, byAmpacity > amps ? 'next-size-up' : 'ampacity')
}

const DECIDED_BY_ARTICLE = {
  ampacity: '240.4',
  'next-size-up': '240.4(B)',
  'dwelling-rule': DWELLING_ARTICLE,
  'small-conductor': SMALL_CONDUCTOR_ARTICLE,
} as const

export function mainReferences(
  { size, material }: MainConductors,
  { decidedBy }: MainProtection,
  edition: Edition | null,
): Reference[] {
  return [
    nec(DECIDED_BY_ARTICLE[decidedBy], edition),
    nec(AMPACITY_ARTICLE, edition, `${sizeLabel(size)} ${CONDUCTOR_MATERIALS[material].toLowerCase()}`),
  ]
}

export function mainFigures({ deviceAmps }: MainConductors, found: MainProtection): Figure[] {
  return [
    { label: 'Device', value: deviceAmps, unit: 'A' },
    { label: 'Ampacity at the terminals', value: found.ampacityAmps, unit: 'A' },
    { label: 'Largest device', value: found.largestDevice, unit: 'A' },
  ]
}
