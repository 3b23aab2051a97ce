/** Units that torque tools and labels show. */
export type TorqueUnit = 'lbfIn' | 'lbfFt' | 'Nm'

const INCHES_PER_FOOT = 12
/** Exact: 4.4482216152605 N (pound-force) × 0.0254 m. ISO 31, NIST SP 811. */
const NEWTON_METRES_PER_LBF_INCH = 4.4482216152605 * 0.0254

const LBF_INCHES: Readonly<Record<TorqueUnit, number>> = {
  lbfIn: 1,
  lbfFt: INCHES_PER_FOOT,
  Nm: 1 / NEWTON_METRES_PER_LBF_INCH,
}

export const TORQUE_UNITS: Readonly<Record<TorqueUnit, string>> = {
  lbfIn: 'lbf·in',
  lbfFt: 'lbf·ft',
  Nm: 'N·m',
}

export function toLbfInches(value: number, unit: TorqueUnit): number {
  return value * LBF_INCHES[unit]
}

export function fromLbfInches(lbfInches: number, unit: TorqueUnit): number {
  return lbfInches / LBF_INCHES[unit]
}
