import type { DetailsOf } from '../equipment.ts'
import type { Space, SpaceKind } from '../property.ts'
import type { GroundFaultPlace } from './places.ts'

export type SpaceFacts = Pick<Space, 'kind' | 'hasSink' | 'hasTubOrShower'>
export type ReceptacleFacts = Pick<
  DetailsOf<'receptacle'>,
  | 'place'
  | 'volts'
  | 'amps'
  | 'heightInches'
  | 'dedicatedAppliance'
  | 'partOfAppliance'
  | 'groundFault'
  | 'replacedOnOrAfterBuild'
>

/** Rooms that are on the list whatever stands in them. */
const ROOM: Partial<Record<SpaceKind, GroundFaultPlace>> = {
  bathroom: 'bathroom',
  laundry: 'laundry',
  garage: 'garage',
  'basement-unfinished': 'basement-unfinished',
  'basement-finished': 'basement-finished',
  'crawl-space': 'crawl-space',
  'accessory-building': 'accessory-building',
}

/** What a sink in that kind of room is. Elsewhere just a sink. */
const SINK: Partial<Record<SpaceKind, GroundFaultPlace>> = {
  kitchen: 'kitchen-counter-by-sink',
  laundry: 'utility-sink',
  utility: 'utility-sink',
  living: 'wet-bar-sink',
  dining: 'wet-bar-sink',
  family: 'wet-bar-sink',
}

/** Reach from the ground: receptacles above it counted as out of reach from 1978 to 1996. 210-8, 1978 to 1993. */
export const GRADE_ACCESS_INCHES = 78

/** The places of the list in which a receptacle stands: none, one or several. */
export function placesOf(space: SpaceFacts, receptacle: ReceptacleFacts): GroundFaultPlace[] {
  const places = new Set<GroundFaultPlace>()
  const { place, heightInches } = receptacle
  const room = ROOM[space.kind]
  if (room) places.add(room)
  if (space.kind === 'outdoors') {
    places.add('outdoors')
    if (heightInches != null && heightInches <= GRADE_ACCESS_INCHES) places.add('outdoors-at-grade')
  }
  if (space.kind === 'kitchen') places.add(place === 'kitchen-counter' ? 'kitchen-counter' : 'kitchen')
  else if (place === 'kitchen-counter') places.add('food-area')
  if (place === 'near-sink') places.add(SINK[space.kind] ?? 'sink')
  if (place === 'near-tub') places.add('tub')
  if ((place === 'damp' || place === 'wet') && space.kind !== 'outdoors') places.add('damp')
  return [...places]
}

/** Places judged where only the room is known: its counter in a kitchen, its sink or tub in other rooms. */
export function placesOfRoom(space: SpaceFacts): GroundFaultPlace[] {
  const places = placesOf(space, space.kind === 'kitchen' ? { place: 'kitchen-counter' } : {})
  if (places.length > 0) return places
  return [
    ...(space.hasSink ? [SINK[space.kind] ?? ('sink' as const)] : []),
    ...(space.hasTubOrShower ? (['tub'] as const) : []),
  ]
}

const WET_ROOMS: readonly SpaceKind[] = ['bathroom', 'kitchen', 'laundry', 'outdoors']

/** Where a device that does not trip is a danger rather than a defect. */
export function isNearWater(space: SpaceFacts | null): boolean {
  if (!space) return false
  return WET_ROOMS.includes(space.kind) || Boolean(space.hasSink || space.hasTubOrShower)
}
