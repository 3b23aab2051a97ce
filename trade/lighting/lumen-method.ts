/** A room to be lit evenly. Lengths squared and light in one system: ft² with fc, m² with lx. */
export interface LumenMethod {
  area: number
  illuminance: number
  lumensPerLamp: number
  /** Part of the lamp's light that reaches the working plane: 0 to 1. */
  utilisation: number
  /** Part of it left when lamps are old and dusty: 0 to 1. */
  maintenance: number
}
export type LampCount =
  { kind: 'count'; lamps: number; exact: number; illuminance: number } | { kind: 'cannot'; why: string }

/**
 * n = E·A / (F·CU·LLF), rounded up, and the light that so many lamps then give. A room without area needs none; without
 * light from the lamps no number is enough.
 */
export function lampsNeeded(given: LumenMethod): LampCount {
  const values = Object.values(given) as number[]
  if (values.some((value) => !Number.isFinite(value) || value < 0)) {
    return { kind: 'cannot', why: 'Every figure must be known and not negative.' }
  }
  const { area, illuminance, lumensPerLamp, utilisation, maintenance } = given
  if (utilisation > 1 || maintenance > 1) {
    return { kind: 'cannot', why: 'Utilisation and maintenance are parts of one.' }
  }
  const perLamp = lumensPerLamp * utilisation * maintenance
  if (perLamp === 0 || area === 0) {
    return { kind: 'cannot', why: 'Room and lamps must have an area and give light.' }
  }
  const exact = (illuminance * area) / perLamp
  const lamps = Math.ceil(exact)
  return { kind: 'count', lamps, exact, illuminance: (lamps * perLamp) / area }
}
