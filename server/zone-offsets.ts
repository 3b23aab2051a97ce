import { Temporal } from 'temporal-polyfill'

/** From `from` (epoch milliseconds) on the wall clock is `offset` milliseconds ahead of UTC. */
interface Stretch {
  from: number
  offset: number
}

/** Zones that anybody asks for at once, times years: more than that is somebody trying. */
const MOST = 2000
const years = new Map<string, readonly Stretch[]>()

/**
 * How far the wall clock of an IANA zone is ahead of UTC at an instant, in milliseconds. The clock changes of a zone are
 * looked up once a year of the calendar; asking Temporal each time costs more than all else that a reminder needs.
 */
export function zoneOffset(at: number, zone: string): number {
  const year = new Date(at).getUTCFullYear()
  const key = `${zone} ${year}`
  let stretches = years.get(key)
  if (!stretches) {
    if (years.size >= MOST) years.clear()
    years.set(key, (stretches = stretchesOf(zone, year)))
  }
  let offset = stretches[0]!.offset
  for (const stretch of stretches) if (stretch.from <= at) offset = stretch.offset
  return offset
}

function stretchesOf(zone: string, year: number): Stretch[] {
  const end = Date.UTC(year + 1, 0)
  let at: Temporal.ZonedDateTime | null = Temporal.Instant.fromEpochMilliseconds(
    Date.UTC(year, 0),
  ).toZonedDateTimeISO(zone)
  const found: Stretch[] = []
  while (at && at.epochMilliseconds < end) {
    found.push({ from: at.epochMilliseconds, offset: at.offsetNanoseconds / 1e6 })
    at = at.getTimeZoneTransition('next')
  }
  return found
}
