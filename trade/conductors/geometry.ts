import { type ConductorSize, isKcmil } from './sizes.ts'

/** ASTM B258: 36 AWG is 0.0050 in, 4/0 is 0.4600 in, and 39 equal ratios lie between them. */
const THINNEST = { gauge: 36, inches: 0.005 }
const RATIO_OVER_ALL_STEPS = 92
const STEPS = 39

const MILS_PER_INCH = 1000
const CMIL_PER_KCMIL = 1000

/** The gauge as a number: 12 → 12, 1/0 → 0, 4/0 → −3; null for kcmil sizes, which have no gauge. */
export function gaugeNumber(size: ConductorSize): number | null {
  if (isKcmil(size)) return null
  const aughts = /^(\d)\/0$/.exec(size)
  return aughts ? 1 - Number(aughts[1]) : Number(size)
}

/** Diameter of a solid round wire in inches. ASTM B258. */
export function diameterInches(size: ConductorSize): number {
  const gauge = gaugeNumber(size)
  if (gauge === null) return Math.sqrt(circularMils(size)) / MILS_PER_INCH
  return THINNEST.inches * RATIO_OVER_ALL_STEPS ** ((THINNEST.gauge - gauge) / STEPS)
}

/** Area in circular mils: the diameter in mils squared. kcmil sizes are named by theirs. */
export function circularMils(size: ConductorSize): number {
  if (gaugeNumber(size) === null) return Number(size) * CMIL_PER_KCMIL
  return (diameterInches(size) * MILS_PER_INCH) ** 2
}
