import { kFactor, resistancePerKft, TABLE_8 } from '../conductors/resistance.ts'
import type { ConductorMaterial, ConductorSize } from '../conductors/sizes.ts'

/** A run of two conductors out and back, or three phase conductors. */
export interface Run {
  volts: number
  amps: number
  /** One way. */
  feet: number
  size: ConductorSize
  material: ConductorMaterial
  /** Left out = stranded, which is 2 % more. */
  stranded?: boolean
  /** Left out = 75 °C, the temperature of the table. */
  conductorC?: number
  phases?: 1 | 3
}

export interface Drop {
  volts: number
  percent: number
}

const FEET_PER_KFT = 1000
/** Out and back, or √3 with three phases. */
const LENGTHS = { 1: 2, 3: Math.sqrt(3) } as const

/** Advice, not a rule: NFPA 70 210.19 note (branch circuit), 215.2 note (feeder and branch together), in percent. */
export const ADVISED_BRANCH_PERCENT = 3
export const ADVISED_TOTAL_PERCENT = 5

/** Drop by resistance: 2·I·R·L/1000, with R of NFPA 70 chapter 9 table 8. */
export function expectedDrop(run: Run): Drop {
  const { stranded, conductorC } = run
  const resistance = resistancePerKft(run.size, run.material, { stranded, conductorC })
  return dropOf((LENGTHS[run.phases ?? 1] * run.amps * resistance * run.feet) / FEET_PER_KFT, run.volts)
}

/** The trade's other form: 2·K·I·L/cmil. `k` left out = from table 8; handbooks print 12.9 copper, 21.2 aluminium. */
export function expectedDropByK(run: Run, k: number = kFactor(run.size, run.material)): Drop {
  const volts = (LENGTHS[run.phases ?? 1] * k * run.amps * run.feet) / TABLE_8[run.size].cmil
  return dropOf(volts, run.volts)
}

export function dropOf(lost: number, from: number): Drop {
  return { volts: lost, percent: toMillionth((lost / from) * 100) }
}

/** Binary fractions would push a drop of exactly 3 % over the advice. */
function toMillionth(value: number): number {
  return Math.round(value * 1e6) / 1e6
}
