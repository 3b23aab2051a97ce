import { DateTime } from 'luxon'
import type { Day } from '../../trade/dates.ts'
import { DEFAULT_POLICY, type Policy } from '../../trade/follow-ups/policy.ts'
import type { Calendar } from '../../server/follow-ups/simulation/calendar.ts'
import { type Simulated, watchSimulation } from '../../server/follow-ups/simulation/watch.ts'
import { wallClock } from './wall-clock.ts'

export interface Wanted {
  years: number
  homes: number
  seed: number
  from: Day
  policy?: Policy
}

/** Another date library than the engine's, which would not see its own faults. */
const calendar: Calendar = {
  clockOf: wallClock,
  addYears(from, years) {
    const key = `${from} ${years}`
    let end = ends.get(key)
    if (!end) ends.set(key, (end = DateTime.fromISO(from).plus({ years }).toISODate() as Day))
    return end
  },
}
const ends = new Map<string, Day>()

/** One simulation with everything watched. */
export function runSimulation({ policy = DEFAULT_POLICY, ...wanted }: Wanted): Promise<Simulated> {
  return watchSimulation({ ...wanted, policy, calendar, outages: true })
}
