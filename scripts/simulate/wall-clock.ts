import { DateTime } from 'luxon'
import type { WallClock } from '../../server/follow-ups/simulation/calendar.ts'

const DAY_MS = 86_400_000
const YEARS = { first: 1990, last: 2110 }
/** By luxon, whose own conversions are too slow for a million of them: its clock changes are looked up once per zone, and
 *  from there on it is sums. */
const clocks = new Map<string, WallClock>()

export function wallClock(zone: string): WallClock {
  let clock = clocks.get(zone)
  if (!clock) clocks.set(zone, (clock = makeClock(zone)))
  return clock
}

function makeClock(zone: string): WallClock {
  const offsetAt = (at: number) => DateTime.fromMillis(at, { zone }).offset * 60_000
  const changes: { at: number; offset: number }[] = [
    { at: -Infinity, offset: offsetAt(Date.UTC(YEARS.first, 0)) },
  ]
  // Nothing changes its clock twice within a fortnight; the minute is found by halving.
  for (let at = Date.UTC(YEARS.first, 0); at < Date.UTC(YEARS.last, 0); at += 14 * DAY_MS) {
    const [before, after] = [changes.at(-1)!.offset, offsetAt(at + 14 * DAY_MS)]
    if (before === after) continue
    let [low, high] = [at, at + 14 * DAY_MS]
    while (high - low > 60_000) {
      const middle = Math.floor((low + high) / 120_000) * 60_000
      if (offsetAt(middle) === before) low = middle
      else high = middle
    }
    changes.push({ at: high, offset: after })
  }
  const latest = (at: number) => {
    let [low, high] = [0, changes.length - 1]
    while (low < high) {
      const middle = (low + high + 1) >> 1
      if (changes[middle]!.at <= at) low = middle
      else high = middle - 1
    }
    return low
  }
  const wall = (at: number) => at + changes[latest(at)]!.offset
  const iso = (at: number) => new Date(wall(at)).toISOString()
  const day = (at: number) => iso(at).slice(0, 10)
  return {
    wall,
    day,
    time: (at) => iso(at).slice(11, 16),
    isClockChange: (at) => {
      const near = [latest(at), latest(at) + 1].flatMap((n) => changes[n]?.at ?? [])
      return near.some((change) => Number.isFinite(change) && day(change) === day(at))
    },
  }
}
