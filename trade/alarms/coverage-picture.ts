import type { RuleContext } from '../editions.ts'
import type { Home } from '../home.ts'
import { editionRead } from '../nec.ts'
import { type Clocks, clocksOf, type Requirement } from '../requirement.ts'
import { coSources, type CoSources } from './co-sources.ts'
import {
  type AlarmsFor,
  alarmsFor,
  type Coverage,
  coverageOfRoom,
  coverageOfSleepingArea,
  coverageOfStorey,
} from './covering.ts'
import { levelName, type SleepingArea, type Storey, storeysOf } from './dwelling-places.ts'
import { CO_PLACES, SMOKE_PLACES } from './requirements.ts'
import { sensesCarbonMonoxide, sensesSmoke } from './senses.ts'

export type PlaceKind = 'sleeping-room' | 'sleeping-area' | 'level'

/** One place that wants an alarm, and what is there. */
export interface Watch extends Coverage {
  /** `advised` where no code in force asks for it and advice for every home does. */
  wanted: 'required' | 'advised' | 'unknown' | 'no'
  clocks: Clocks
}
export interface CoveragePlace {
  kind: PlaceKind
  level: number
  /** The bedroom; null for an area or a level. */
  spaceId: string | null
  /** `Bedroom 2`, `outside the bedrooms`, `basement`. */
  name: string
  smoke: Watch
  co: Watch
  /** A heat alarm hangs here: an addition, never a substitute. */
  hasHeatAlarm: boolean
}
export interface CoverageLevel {
  level: number
  name: string
  isBasement: boolean
  places: readonly CoveragePlace[]
}
export interface CoveragePicture {
  levels: readonly CoverageLevel[]
  coSources: CoSources
  /** Places that want a smoke alarm: the least number of them for this home. */
  smokePlaces: number
  smokeMissing: number
  coMissing: number
}

interface Alarms {
  smoke: AlarmsFor
  co: AlarmsFor
  heat: AlarmsFor
}

const drawn = new WeakMap<Home, WeakMap<RuleContext, CoveragePicture>>()

/**
 * Where this home wants smoke and CO alarms by room and level, and where it has them. Storeys from the lowest up. A home
 * is a value, so what was drawn for it stays true: two rules and a screen ask for the same picture.
 */
export function coveragePicture(home: Home, context: RuleContext): CoveragePicture {
  let pictures = drawn.get(home)
  if (!pictures) drawn.set(home, (pictures = new WeakMap()))
  let picture = pictures.get(context)
  if (!picture) pictures.set(context, (picture = draw(home, context)))
  return picture
}

function draw(home: Home, context: RuleContext): CoveragePicture {
  const alarms: Alarms = {
    smoke: alarmsFor(home, sensesSmoke),
    co: alarmsFor(home, sensesCarbonMonoxide),
    heat: alarmsFor(home, (senses) => senses === 'heat'),
  }
  const sources = coSources(home.property, home.spaces, editionRead(context))
  const levels = storeysOf(home).map((storey) => {
    const { level, isBasement } = storey
    const places = placesOn(storey, alarms, sources, context)
    return { level, name: levelName(level, isBasement), isBasement, places }
  })
  const places = levels.flatMap((each) => each.places)
  return {
    levels,
    coSources: sources,
    smokePlaces: places.filter(({ smoke }) => smoke.wanted !== 'no').length,
    smokeMissing: places.filter(({ smoke }) => isMissing(smoke)).length,
    coMissing: places.filter(({ co }) => isMissing(co)).length,
  }
}

export function isMissing({ wanted, present }: Watch): boolean {
  return present === 'no' && (wanted === 'required' || wanted === 'advised')
}

function placesOn(storey: Storey, alarms: Alarms, sources: CoSources, context: RuleContext): CoveragePlace[] {
  const rooms = storey.sleepingAreas.flatMap(({ bedrooms }) =>
    bedrooms.map((room): CoveragePlace => {
      // Only a burner that somebody noted in the room: an inspection notes it where there is one.
      const burner: CoSources = room.hasFuelBurner ? sources : { ...sources, possible: 'no' }
      return {
        kind: 'sleeping-room',
        level: storey.level,
        spaceId: room.id,
        name: room.name,
        smoke: smokeWatch('sleeping-room', coverageOfRoom(room, alarms.smoke), context),
        co: coWatch(
          'sleeping-room',
          CO_PLACES['sleeping-room'],
          coverageOfRoom(room, alarms.co),
          burner,
          context,
        ),
        hasHeatAlarm: coverageOfRoom(room, alarms.heat).present === 'yes',
      }
    }),
  )
  const areas = storey.sleepingAreas.map((area): CoveragePlace => ({
    kind: 'sleeping-area',
    level: storey.level,
    spaceId: null,
    name: areaName(area),
    smoke: smokeWatch('sleeping-area', coverageOfSleepingArea(area, storey, alarms.smoke), context),
    co: coWatch(
      'sleeping-area',
      CO_PLACES['sleeping-area'],
      coverageOfSleepingArea(area, storey, alarms.co),
      sources,
      context,
    ),
    hasHeatAlarm: coverageOfSleepingArea(area, storey, alarms.heat).present === 'yes',
  }))
  // The alarm outside the bedrooms serves their level as well.
  if (areas.length) return [...rooms, ...areas]
  const co = storey.isBasement ? CO_PLACES.basement : CO_PLACES.level
  return [
    {
      kind: 'level',
      level: storey.level,
      spaceId: null,
      name: levelName(storey.level, storey.isBasement),
      smoke: smokeWatch('level', coverageOfStorey(storey, alarms.smoke), context),
      co: coWatch(
        storey.isBasement ? 'basement' : 'level',
        co,
        coverageOfStorey(storey, alarms.co),
        sources,
        context,
      ),
      hasHeatAlarm: coverageOfStorey(storey, alarms.heat).present === 'yes',
    },
  ]
}

function areaName({ name, level }: SleepingArea): string {
  return `outside the bedrooms${name ? ` (${name})` : ''}, ${levelName(level)}`
}

function smokeWatch(place: PlaceKind, covered: Coverage, context: RuleContext): Watch {
  const clocks = clocksOf(SMOKE_PLACES[place], context)
  const isRequired = clocks.today === 'yes' || clocks.whenBuilt === 'yes'
  const wanted = isRequired ? 'required' : clocks.today === 'no' ? 'no' : 'advised'
  return { ...covered, wanted, clocks }
}

/** Advised beside every bedroom and on every level that people use (CPSC); the basement only where an admin says so. */
function coWatch(
  place: PlaceKind | 'basement',
  requirement: Requirement,
  covered: Coverage,
  { possible }: CoSources,
  context: RuleContext,
): Watch {
  const clocks = clocksOf(requirement, context)
  if (possible === 'no') return { ...covered, wanted: 'no', clocks }
  const isRequired = clocks.today === 'yes' || clocks.whenBuilt === 'yes'
  if (possible === 'unknown') return { ...covered, wanted: 'unknown', clocks }
  if (isRequired) return { ...covered, wanted: 'required', clocks }
  return { ...covered, wanted: place === 'basement' ? 'no' : 'advised', clocks }
}
