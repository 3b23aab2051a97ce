import type { Home } from '../home.ts'
import type { Space, SpaceKind } from '../property.ts'

/** Spaces that make no storey of the dwelling: R314.3 leaves out crawl spaces and attics that nobody lives in. */
const NO_STOREY: readonly SpaceKind[] = [
  'crawl-space',
  'attic-unfinished',
  'garage',
  'accessory-building',
  'outdoors',
]
const BASEMENTS: readonly SpaceKind[] = ['basement-finished', 'basement-unfinished']

/** Bedrooms that share one way out: where the alarm outside them must be heard. */
export interface SleepingArea {
  level: number
  /** Name that the record gives it; null where the level has only one. */
  name: string | null
  bedrooms: readonly Space[]
}
export interface Storey {
  level: number
  spaces: readonly Space[]
  isBasement: boolean
  sleepingAreas: readonly SleepingArea[]
}

/** Storeys of the dwelling from the lowest up, with the bedrooms on each. */
export function storeysOf(home: Home): Storey[] {
  // However they come, always in one order: that in which they were recorded, since ids grow with time.
  const inside = home.spaces
    .filter((space) => !NO_STOREY.includes(space.kind))
    .sort((a, b) => (a.id < b.id ? -1 : 1))
  const levels = [...new Set(inside.map((space) => space.level))].sort((a, b) => a - b)
  return levels.map((level) => {
    const spaces = inside.filter((space) => space.level === level)
    const isBasement = level < 0 || spaces.every((space) => BASEMENTS.includes(space.kind))
    return { level, spaces, isBasement, sleepingAreas: sleepingAreasOn(level, spaces) }
  })
}

function sleepingAreasOn(level: number, spaces: readonly Space[]): SleepingArea[] {
  const areas = new Map<string | null, Space[]>()
  for (const space of spaces) {
    if (space.kind !== 'bedroom') continue
    const name = space.sleepingArea ?? null
    areas.set(name, [...(areas.get(name) ?? []), space])
  }
  return [...areas].map(([name, bedrooms]) => ({ level, name, bedrooms }))
}

/** `ground floor`, `basement`, `floor 2`: what a level is called in a sentence. */
export function levelName(level: number, isBasement = level < 0): string {
  if (isBasement) return 'basement'
  return level === 0 ? 'ground floor' : `upper floor ${level}`
}
