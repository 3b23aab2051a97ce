import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import type { Words } from '../judging.ts'
import { tidy } from '../judging.ts'
import type { Protection } from './protection.ts'

type Serves = NonNullable<DetailsOf<'circuit'>['serves']>

/**
 * Loads whose device may exceed the conductor's ampacity as their nameplate says, NFPA 70 240.4(G) (from memory), and
 * the most that device can be in conductor ampacities: 225 % of the compressor's current over 125 % (440.22(A) and
 * 440.32, from memory), and 400 % of a motor's over 125 % (430.52(C)(1) exception and 430.22, from memory).
 */
export const NAMEPLATE_LOADS: ReadonlyMap<Serves, number> = new Map([
  ['air-conditioner', 2.25 / 1.25],
  ['heat-pump', 2.25 / 1.25],
  ['motor', 4 / 1.25],
])

/** Basis of the check in common practice: 440.4(B), 440.22, 110.3(B). */
export const NAMEPLATE_ARTICLE = '240.4(G)'

/** Whether any nameplate could allow that device on that conductor. */
export function mayNameplateRescue(serves: Serves, deviceAmps: number, ampacityAmps: number): boolean {
  return deviceAmps <= (NAMEPLATE_LOADS.get(serves) ?? 1) * ampacityAmps
}

/** Where a recorded nameplate is not kept: the words for it, or the details that would decide. Null when it is kept. */
export function nameplateShortfall(
  nameplate: Pick<
    DetailsOf<'circuit'>,
    'ratingAmps' | 'nameplateMinimumCircuitAmps' | 'nameplateMaximumDeviceAmps' | 'insulationC' | 'terminalC'
  >,
  least: Protection,
  most: Protection,
): Words | { missing: string[] } | null {
  const { nameplateMinimumCircuitAmps: minimum, nameplateMaximumDeviceAmps: maximum, ratingAmps } = nameplate
  if (maximum != null && ratingAmps! > maximum) {
    return {
      technician: `the nameplate allows ${maximum} A at most.`,
      homeowner:
        'The breaker is larger than the equipment’s maker allows, so it may not protect the equipment in a fault.',
    }
  }
  if (minimum == null || minimum <= least.run.amps) return null
  if (minimum > most.run.amps) {
    return {
      technician: `the nameplate asks for ${minimum} A of conductor, this one carries ${tidy(most.run.amps)} A.`,
      homeowner: 'The wire is thinner than the equipment’s maker asks for and could run hot.',
    }
  }
  const { insulationC, terminalC } = EQUIPMENT_FIELDS.circuit
  const missing = []
  if (!nameplate.insulationC) missing.push(insulationC.label)
  if (!nameplate.terminalC) missing.push(terminalC.label)
  return { missing }
}
