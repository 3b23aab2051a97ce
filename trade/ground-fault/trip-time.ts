/** UL 943 class A: leakage below which the device must hold, and from which it must trip. */
export const MUST_HOLD_BELOW_MA = 4
export const MUST_TRIP_FROM_MA = 6

/** UL 943: longest time to trip, T = (20 / I)^1.43, T in seconds and I in mA, stated from 6 to 264 mA. */
const CURVE = { milliamps: 20, exponent: 1.43, endsAtMilliamps: 264 }
const MS_PER_SECOND = 1000

/** Longest time in which a class A device must have tripped; null below the current at which it must trip at all. */
export function longestTripMs(milliamps: number): number | null {
  if (milliamps < MUST_TRIP_FROM_MA) return null
  const current = Math.min(milliamps, CURVE.endsAtMilliamps)
  return (CURVE.milliamps / current) ** CURVE.exponent * MS_PER_SECOND
}

/** `may` is the band in which the standard asks neither to trip nor to hold. */
export function tripExpected(milliamps: number): 'must-hold' | 'may' | 'must-trip' {
  if (milliamps < MUST_HOLD_BELOW_MA) return 'must-hold'
  return milliamps < MUST_TRIP_FROM_MA ? 'may' : 'must-trip'
}

export interface TripTest {
  milliamps: number
  tripped: boolean
  /** Time to trip, where the meter shows it. */
  ms?: number
}
/**
 * `pass` or `fail` against UL 943; `neither` inside the indeterminate band; `time-missing` where the device tripped
 * but nobody knows how fast.
 */
export type TripResult = 'pass' | 'trips-early' | 'holds' | 'too-slow' | 'neither' | 'time-missing'

export function judgeTripTest({ milliamps, tripped, ms }: TripTest): TripResult {
  const expected = tripExpected(milliamps)
  if (expected === 'may') return 'neither'
  if (expected === 'must-hold') return tripped ? 'trips-early' : 'pass'
  if (!tripped) return 'holds'
  if (ms === undefined) return 'time-missing'
  // Meters show whole milliseconds, so the limit is met up to the next one.
  return ms <= Math.ceil(longestTripMs(milliamps)!) ? 'pass' : 'too-slow'
}
