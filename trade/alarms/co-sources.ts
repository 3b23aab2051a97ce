import type { Edition } from '../editions.ts'
import type { Property, Space } from '../property.ts'
import type { Required } from '../verdict.ts'
import { GARAGE_OPENING_SINCE } from './requirements.ts'

export interface CoSources {
  /** Whether carbon monoxide can arise in the home or come in from a garage. */
  possible: Required
  why: string
  /** What would settle it, in the words of the form. */
  missing: string[]
}

/**
 * IRC R315: a fuel-burning appliance or an attached garage, since 2015 only one that opens into the home. One sure source
 * settles it; without one every other must be known to be absent.
 */
export function coSources(property: Property, spaces: readonly Space[], edition: Edition | null): CoSources {
  const { fuels, garage } = property
  const burns = fuels?.some((fuel) => fuel !== 'electric') || spaces.some((space) => space.hasFuelBurner)
  if (burns) return { possible: 'yes', why: 'fuel is burned in the home', missing: [] }
  const byGarage = garageSource(property, edition)
  if (byGarage === 'yes') return { possible: 'yes', why: 'a garage is attached', missing: [] }
  const missing = [
    ...(fuels?.length ? [] : ['Fuels used in the home']),
    ...(garage === null ? ['Garage'] : []),
    ...(garage === 'attached' && byGarage === 'unknown' ? ['Whether the garage opens into the home'] : []),
  ]
  if (missing.length) return { possible: 'unknown', why: 'not all sources are known', missing }
  return { possible: 'no', why: 'nothing burns fuel and no garage opens into the home', missing: [] }
}

function garageSource({ garage, garageOpensIntoHome }: Property, edition: Edition | null): Required {
  if (garage === null) return 'unknown'
  if (garage !== 'attached') return 'no'
  if (edition && edition < GARAGE_OPENING_SINCE) return 'yes'
  if (garageOpensIntoHome === null) return 'unknown'
  if (garageOpensIntoHome) return 'yes'
  return edition ? 'no' : 'unknown'
}
