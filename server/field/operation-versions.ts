import { OPERATION_VERSION } from '../../trade/inspection/operation-version.ts'

export type Raw = Readonly<Record<string, unknown>>

/** From version n to n + 1. A step stays as long as a device may still hold what was written under n. */
export type Steps = Readonly<Record<number, (operation: Raw) => Raw>>

export const STEPS: Steps = {
  // Before operations were numbered; what they say is the same.
  1: (operation) => operation,
}

/** An operation as today's app would write it; null when it is written by a newer app than this office. */
export function inTodaysShape(raw: Raw, steps: Steps = STEPS, today = OPERATION_VERSION): Raw | null {
  const given = raw['v'] ?? 1
  // Not a version at all: the schema says so.
  if (typeof given !== 'number' || !Number.isInteger(given) || given < 1) return raw
  if (given > today) return null
  let operation = raw
  for (let version = given; version < today; version++) operation = steps[version]?.(operation) ?? operation
  return { ...operation, v: today }
}
