import { LARGEST_MOTOR_SHARE } from './factors.ts'

/** Amperes on the two legs and the neutral of a 120/240 V service. */
export interface Legs {
  a: number
  neutral: number
  b: number
}
export interface LegRow extends Legs {
  label: string
}

/** Loads entered on one row; two 120 V loads opposite each other share the neutral, and the larger loads it. */
export interface OppositeLoads {
  label: string
  /** 240 V: on both legs, none on the neutral. */
  across?: { amps: number; motor?: boolean }
  a?: { amps: number; motor?: boolean }
  b?: { amps: number; motor?: boolean }
}

/**
 * Adds loads in amperes leg by leg, as NFPA 70 Annex D1(b). The quarter of the largest motor is taken on each leg from
 * the motors there, on the neutral from the largest 120 V motor: printings differ by 1 A there (83 or 84).
 */
export function loadLegs(base: LegRow, loads: readonly OppositeLoads[]): { rows: LegRow[]; total: Legs } {
  const rows = [base, ...loads.map(rowOf)]
  const motors = (side: 'a' | 'b') =>
    loads.flatMap((row) => [row.across, row[side]]).filter((load) => load?.motor)
  const neutralMotors = loads.flatMap((row) => [row.a, row.b]).filter((load) => load?.motor)
  const quarter = (found: ({ amps: number } | undefined)[]) =>
    Math.round(Math.max(0, ...found.map((load) => load?.amps ?? 0)) * LARGEST_MOTOR_SHARE)
  const motorRow: LegRow = {
    label: 'Quarter of the largest motor',
    a: quarter(motors('a')),
    neutral: quarter(neutralMotors),
    b: quarter(motors('b')),
  }
  if (motorRow.a + motorRow.b > 0) rows.push(motorRow)
  const total = rows.reduce<Legs>(
    (sum, row) => ({ a: sum.a + row.a, neutral: sum.neutral + row.neutral, b: sum.b + row.b }),
    { a: 0, neutral: 0, b: 0 },
  )
  return { rows, total }
}

function rowOf({ label, across, a, b }: OppositeLoads): LegRow {
  const [onA, onB, onBoth] = [a?.amps ?? 0, b?.amps ?? 0, across?.amps ?? 0]
  return { label, a: onA + onBoth, neutral: Math.max(onA, onB), b: onB + onBoth }
}
