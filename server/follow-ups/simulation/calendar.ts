import { addYears, type Day } from '../../../trade/dates.ts'
import { zoneOffset } from '../../zone-offsets.ts'

/** The wall of one zone. */
export interface WallClock {
  /** Milliseconds of the wall clock, as if the wall were in UTC. */
  wall(at: number): number
  /** `HH:MM` */
  time(at: number): string
  /** `YYYY-MM-DD` */
  day(at: number): string
  isClockChange(at: number): boolean
}

/** What a simulation is watched by. `npm run simulate` brings another date library than the engine's own. */
export interface Calendar {
  clockOf(zone: string): WallClock
  addYears(from: Day, years: number): Day
}

const DAY_MS = 86_400_000

/** The engine's own, for whoever wants the figures and not the proof. */
export const OWN_CALENDAR: Calendar = {
  addYears,
  clockOf(zone) {
    const wall = (at: number) => at + zoneOffset(at, zone)
    const iso = (at: number) => new Date(wall(at)).toISOString()
    return {
      wall,
      day: (at) => iso(at).slice(0, 10),
      time: (at) => iso(at).slice(11, 16),
      isClockChange: (at) => zoneOffset(at - DAY_MS, zone) !== zoneOffset(at + DAY_MS, zone),
    }
  },
}
