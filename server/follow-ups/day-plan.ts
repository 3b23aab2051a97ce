import type { Day } from '../../trade/dates.ts'
import { driveMinutes } from '../../trade/planning/drive-time.ts'
import { instantAt } from '../time.ts'
import { type Booking, freeWindows } from '../visits/free-windows.ts'

export interface StopToPlace {
  line1: string
  city: string
  timeZone: string
  latitude: number | null
  longitude: number | null
  lengthMinutes: number
}
export interface Place {
  windowStart: string
  windowEnd: string
  startsAt: string
}

/** Where positions are not on record. Own choice. */
const UNKNOWN_DRIVE_MINUTES = 20
const MS_PER_MINUTE = 60_000

/**
 * Arrival windows for homes one after the other, in the order given: each begins when the one before is over and the way
 * is driven, around what the technician has already. Null where the day has no more room. Pure.
 */
export function placeInOrder(
  stops: readonly StopToPlace[],
  given: {
    day: Day
    from: string
    technician: { id: string; name: string }
    bookings: readonly Booking[]
    now: Date
  },
): (Place | null)[] {
  const { day, from, technician, bookings, now } = given
  let freeFrom: Date | null = null
  let last: StopToPlace | null = null
  return stops.map((stop) => {
    const begins = freeFrom ?? instantAt(day, from, stop.timeZone)
    const arrives = new Date(begins.getTime() + (last ? wayMinutes(last, stop) * MS_PER_MINUTE : 0))
    const [window] = freeWindows({
      days: [day],
      zone: stop.timeZone,
      lengthMinutes: stop.lengthMinutes,
      technicians: [technician],
      bookings,
      now: arrives > now ? arrives : now,
    }).filter(({ windowEndsAt }) => Date.parse(windowEndsAt) > arrives.getTime())
    const startsAt = window?.technicians[0]?.startsAt
    if (!window || !startsAt) return null
    freeFrom = new Date(
      instantAt(day, startsAt, stop.timeZone).getTime() + stop.lengthMinutes * MS_PER_MINUTE,
    )
    last = stop
    return { windowStart: window.windowStart, windowEnd: window.windowEnd, startsAt }
  })
}

function wayMinutes(from: StopToPlace, to: StopToPlace): number {
  const [a, b] = [positionOf(from), positionOf(to)]
  return a && b ? driveMinutes(a, b) : UNKNOWN_DRIVE_MINUTES
}

const positionOf = ({ latitude, longitude }: StopToPlace) =>
  latitude === null || longitude === null ? null : { latitude, longitude }
