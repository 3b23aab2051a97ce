import type { Day } from './dates.ts'

export const FUELS = {
  electric: 'Electric only',
  'natural-gas': 'Natural gas',
  propane: 'Propane',
  oil: 'Oil',
  wood: 'Wood or pellets',
} as const
export type Fuel = keyof typeof FUELS

export const GARAGES = { none: 'No garage', attached: 'Attached', detached: 'Detached' } as const
export type Garage = keyof typeof GARAGES

export const TENURES = { owner: 'Lived in by its owner', rented: 'Rented out' } as const
export type Tenure = keyof typeof TENURES

/** Rooms and places that the checklist and the rules tell apart. */
export const SPACE_KINDS = {
  bedroom: 'Bedroom',
  hall: 'Hall',
  stairs: 'Stairs',
  living: 'Living room',
  dining: 'Dining room',
  family: 'Family room or den',
  kitchen: 'Kitchen',
  bathroom: 'Bathroom',
  laundry: 'Laundry',
  office: 'Home office',
  closet: 'Closet',
  utility: 'Utility room',
  'basement-unfinished': 'Basement, unfinished',
  'basement-finished': 'Basement, finished',
  'crawl-space': 'Crawl space',
  'attic-unfinished': 'Attic, unfinished',
  'attic-habitable': 'Attic, lived in',
  garage: 'Garage',
  'accessory-building': 'Shed or outbuilding',
  outdoors: 'Outdoors',
  other: 'Other',
} as const
export type SpaceKind = keyof typeof SPACE_KINDS

/** Storeys count from the ground floor: 0; the basement is -1, an attic above two storeys 2. */
export interface Space {
  id: string
  kind: SpaceKind
  name: string
  level: number
  areaSqFt?: number | null
  /** A sink, tub or shower inside, where the kind of room does not already say so. */
  hasSink?: boolean | null
  hasTubOrShower?: boolean | null
  /** Burns fuel in the room: matters for carbon monoxide. */
  hasFuelBurner?: boolean | null
  /** Bedrooms that share one hall share a sleeping area; null = one sleeping area per level. */
  sleepingArea?: string | null
}

/** What the property record says about the home. Null = nobody knows yet. */
export interface Property {
  yearBuilt: number | null
  /** Last year in which the wiring was altered under a permit; counts as "when built" for the part it touched. */
  yearAltered: number | null
  levels: number | null
  areaSqFt: number | null
  fuels: readonly Fuel[] | null
  /** Gas piping in the home, whatever it feeds. */
  hasGasPiping: boolean | null
  garage: Garage | null
  /** The garage opens into the home. */
  garageOpensIntoHome: boolean | null
  tenure: Tenure | null
  lastInspectedOn: Day | null
  soldOn: Day | null
}
