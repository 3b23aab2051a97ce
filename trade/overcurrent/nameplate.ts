import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { tidy, type Words } from '../judging.ts'
import type { Protection } from './protection.ts'

type Circuit = DetailsOf<'circuit'>
type Serves = NonNullable<Circuit['serves']>

/**
 * Loads whose device may exceed the conductor's ampacity as their nameplate says, NFPA 70 240.4(G) (from memory), and
 * the most that device can be in conductor ampacities: 225 % of the compressor's current over 125 % (440.22(A) and
 * 440.32, from memory), and 400 % of a motor's over 125 % (430.52(C)(1) exception and 430.22, from memory).
 */
const MOST_OVER_CONDUCTOR: Readonly<Partial<Record<Serves, number>>> = {
  'air-conditioner': 2.25 / 1.25,
  'heat-pump': 2.25 / 1.25,
  motor: 4 / 1.25,
}

/** Basis of the check in common practice: 440.4(B), 440.22, 110.3(B). */
export const NAMEPLATE_ARTICLE = '240.4(G)'

/** Whether the load is one whose nameplate may go beyond the conductor's ampacity. */
export function isUnderNameplate(serves: Circuit['serves']): boolean {
  return serves !== undefined && MOST_OVER_CONDUCTOR[serves] !== undefined
}

/** Whether any nameplate could allow that device on that conductor. */
export function mayNameplateRescue(serves: Serves, deviceAmps: number, ampacityAmps: number): boolean {
  return deviceAmps <= (MOST_OVER_CONDUCTOR[serves] ?? 0) * ampacityAmps
}

type Plate = Pick<
  Circuit,
  'ratingAmps' | 'nameplateMinimumCircuitAmps' | 'nameplateMaximumDeviceAmps' | 'insulationC' | 'terminalC'
>

/** How device and conductor stand to what the nameplate says, as far as it is recorded. */
export type NameplateStanding =
  | { kind: 'kept' }
  | { kind: 'broken'; words: Words }
  /** The conductor's details decide whether it reaches the minimum. */
  | { kind: 'open'; missing: string[] }

export function nameplateStanding(plate: Plate, least: Protection, most: Protection): NameplateStanding {
  const { nameplateMinimumCircuitAmps: minimum, nameplateMaximumDeviceAmps: maximum, ratingAmps } = plate
  if (maximum != null && ratingAmps! > maximum) {
    return broken(
      `the nameplate allows ${maximum} A at most.`,
      'The breaker is larger than the equipment’s maker allows, so it may not protect the equipment in a fault.',
    )
  }
  if (minimum == null || minimum <= least.run.amps) return { kind: 'kept' }
  if (minimum > most.run.amps) {
    return broken(
      `the nameplate asks for ${minimum} A of conductor, this one carries ${tidy(most.run.amps)} A.`,
      'The wire is thinner than the equipment’s maker asks for and could run hot.',
    )
  }
  const { insulationC, terminalC } = EQUIPMENT_FIELDS.circuit
  const missing = []
  if (!plate.insulationC) missing.push(insulationC.label)
  if (!plate.terminalC) missing.push(terminalC.label)
  return { kind: 'open', missing }
}

function broken(technician: string, homeowner: string): NameplateStanding {
  return { kind: 'broken', words: { technician, homeowner } }
}
