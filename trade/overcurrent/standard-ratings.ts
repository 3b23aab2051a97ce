import { type Edition, isAtLeast } from '../editions.ts'

/** NFPA 70 240.6(A), amperes; above 600 A from memory. 10 A breakers joined the list with 2023. */
const STANDARD_RATINGS: readonly { amps: number; since: Edition }[] = [
  { amps: 10, since: '2023' },
  ...[
    15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 110, 125, 150, 175, 200, 225, 250, 300, 350, 400,
    450, 500, 600, 700, 800, 1000, 1200, 1600, 2000, 2500, 3000, 4000, 5000, 6000,
  ].map((amps) => ({ amps, since: '1940' as const })),
]

export function standardRatings(edition: Edition): number[] {
  return STANDARD_RATINGS.filter((rating) => isAtLeast(edition, rating.since)).map((rating) => rating.amps)
}

/** Smallest standard rating that is not below `amps`; null above the list. */
export function standardRatingFrom(amps: number, edition: Edition): number | null {
  return (
    STANDARD_RATINGS.find((rating) => rating.amps >= amps && isAtLeast(edition, rating.since))?.amps ?? null
  )
}

/** Largest standard rating that is not above `amps`; null below the list. */
export function standardRatingUpTo(amps: number, edition: Edition): number | null {
  return (
    STANDARD_RATINGS.findLast((rating) => rating.amps <= amps && isAtLeast(edition, rating.since))?.amps ??
    null
  )
}

/** NFPA 70 240.4(B), from memory: the next size up ends at 800 A. */
const NEXT_SIZE_UP_TO_AMPS = 800

/**
 * Largest device that protects a conductor of `ampacity`: its own ampacity, or the next standard size where that
 * ampacity is none, unless the circuit feeds several receptacles for plugged-in loads. NFPA 70 240.4(B).
 */
export function largestDeviceAmps(
  ampacity: number,
  { feedsSeveralReceptacles }: { feedsSeveralReceptacles: boolean },
  edition: Edition,
): number {
  const next = standardRatingFrom(ampacity, edition)
  if (ampacity <= 0 || feedsSeveralReceptacles || next === null || next > NEXT_SIZE_UP_TO_AMPS)
    return ampacity
  return next
}

/**
 * Whether a device lets through more than the insulation itself bears, next size up granted: no longer a matter of
 * terminals or a small-conductor limit, but of wire that can burn. Our measure of "unsafe", no source.
 */
export function exceedsInsulation(deviceAmps: number, insulationAmps: number, edition: Edition): boolean {
  return deviceAmps > largestDeviceAmps(insulationAmps, { feedsSeveralReceptacles: false }, edition)
}
