import type { EquipmentOf } from '../equipment.ts'
import { type Home, inUse, spaceOf } from '../home.ts'
import type { Space, SpaceKind } from '../property.ts'
import type { SleepingArea, Storey } from './dwelling-places.ts'

/** Farthest from an alarm to a bedroom door along the path people walk. NFPA 72-2010 §29.5.1.1. */
export const BEDROOM_PATH_FEET = 21

export type Presence = 'yes' | 'no' | 'unknown'
export interface Coverage {
  present: Presence
  alarmIds: readonly string[]
}
type Alarm = EquipmentOf<'alarm'>

/** An alarm with the room it hangs in; null where nobody has noted it. */
export interface PlacedAlarm {
  alarm: Alarm
  space: Space | null
}

/** Alarms of a home that sense what is asked, and those of which that or the room is unknown. */
export interface AlarmsFor {
  placed: readonly PlacedAlarm[]
  /** One of these may be where an alarm seems to be missing. */
  anyUnclear: boolean
}

export function alarmsFor(home: Home, senses: (each: Alarm['details']['senses']) => boolean): AlarmsFor {
  const all = inUse(home, 'alarm').map((alarm) => ({ alarm, space: spaceOf(home, alarm) }))
  const fitting = all.filter(({ alarm }) => senses(alarm.details.senses))
  const isUnclear = ({ alarm, space }: PlacedAlarm) =>
    alarm.details.senses === undefined || (senses(alarm.details.senses) && !space)
  return { placed: fitting.filter(({ space }) => space !== null), anyUnclear: all.some(isUnclear) }
}

export function coverageOfRoom(room: Space, alarms: AlarmsFor): Coverage {
  return coverage(
    alarms.placed.filter(({ space }) => space?.id === room.id),
    alarms,
  )
}

/** Any alarm on the storey serves it, whatever the room: the distances are judged apart. */
export function coverageOfStorey(storey: Storey, alarms: AlarmsFor): Coverage {
  const ids = new Set(storey.spaces.map((space) => space.id))
  return coverage(
    alarms.placed.filter(({ space }) => ids.has(space!.id)),
    alarms,
  )
}

const WAYS: readonly SpaceKind[] = ['hall', 'stairs']
const OPEN_ROOMS: readonly SpaceKind[] = ['living', 'dining', 'family', 'office', 'other']

/**
 * Outside the bedrooms: an alarm in the hall or stairs beside them, or in an open room from which the path to the
 * farthest door is measured and short enough. With several sleeping areas on a level the record must say which hall
 * belongs to which.
 */
export function coverageOfSleepingArea(area: SleepingArea, storey: Storey, alarms: AlarmsFor): Coverage {
  const near = alarmsNear(area, storey, alarms)
  if (near.sure.length) return { present: 'yes', alarmIds: idsOf(near.sure) }
  if (near.maybe.length) return { present: 'unknown', alarmIds: idsOf(near.maybe) }
  return coverage([], alarms)
}

/** Alarms that serve a sleeping area, and those of which the record does not tell. */
export function alarmsNear(area: SleepingArea, storey: Storey, alarms: AlarmsFor) {
  const onStorey = alarms.placed.filter(({ space }) => space!.level === area.level)
  const isSole = storey.sleepingAreas.length === 1
  const verdicts = onStorey.map((each) => ({ each, serves: serves(each, area, isSole) }))
  const having = (answer: Presence) =>
    verdicts.flatMap(({ each, serves }) => (serves === answer ? [each] : []))
  return { sure: having('yes'), maybe: having('unknown') }
}

function serves({ alarm, space }: PlacedAlarm, area: SleepingArea, isSole: boolean): Presence {
  const { kind, sleepingArea } = space!
  const isWay = WAYS.includes(kind)
  if (!isWay && !OPEN_ROOMS.includes(kind)) return 'no'
  if (!isSole && !sleepingArea) return 'unknown'
  if (!isSole && sleepingArea !== area.name) return 'no'
  if (isWay) return 'yes'
  const feet = alarm.details.bedroomDoorFeet
  if (feet === undefined) return 'unknown'
  return feet <= BEDROOM_PATH_FEET ? 'yes' : 'no'
}

function coverage(found: readonly PlacedAlarm[], { anyUnclear }: AlarmsFor): Coverage {
  if (found.length) return { present: 'yes', alarmIds: idsOf(found) }
  return { present: anyUnclear ? 'unknown' : 'no', alarmIds: [] }
}

function idsOf(found: readonly PlacedAlarm[]): string[] {
  return found.map(({ alarm }) => alarm.id)
}
