import type { Edition } from '../editions.ts'
import { valueIn } from '../requirement.ts'
import {
  APPLIANCE_CIRCUIT_VA,
  FEWEST_LAUNDRY_CIRCUITS,
  FEWEST_SMALL_APPLIANCE_CIRCUITS,
  LIGHTING_DEMAND,
  LIGHTING_VA_PER_SQFT,
  loadArticle,
} from './factors.ts'
import type { LoadInputs } from './inputs.ts'
import { grouped, percent, shareOf, type WorksheetLine } from './worksheet.ts'

const SECTION = 'Lighting and receptacles'

/** General lighting of the floor area, in volt-amperes. */
export function generalLightingVA(areaSqFt: number, edition: Edition): number {
  return areaSqFt * (valueIn(LIGHTING_VA_PER_SQFT, edition) ?? 0)
}

/** Circuits for general lighting at `volts` 120: 37.5 A need three of 15 A or two of 20 A. NFPA 70 Annex D1(a). */
export function lightingCircuits(lightingVA: number, circuitAmps: number): number {
  return Math.ceil(lightingVA / LIGHTING_VOLTS / circuitAmps)
}
const LIGHTING_VOLTS = 120

/** Floor area, small-appliance and laundry circuits as connected. The first lines of every method. */
export function connectedLighting(inputs: LoadInputs, edition: Edition): WorksheetLine[] {
  const area = inputs.areaSqFt ?? 0
  const smallAppliance = Math.max(inputs.smallApplianceCircuits, FEWEST_SMALL_APPLIANCE_CIRCUITS)
  const laundry = Math.max(inputs.laundryCircuits, FEWEST_LAUNDRY_CIRCUITS)
  const perSqFt = valueIn(LIGHTING_VA_PER_SQFT, edition)
  const circuits = (label: string, number: number): WorksheetLine => ({
    section: SECTION,
    label,
    basis: `${number} × ${grouped(APPLIANCE_CIRCUIT_VA)} VA`,
    va: number * APPLIANCE_CIRCUIT_VA,
    article: loadArticle('applianceCircuits', edition),
    counted: false,
  })
  return [
    {
      section: SECTION,
      label: 'General lighting',
      basis: `${grouped(area)} ft² × ${perSqFt} VA`,
      va: generalLightingVA(area, edition),
      article: loadArticle('lighting', edition),
      counted: false,
    },
    circuits('Small-appliance circuits', smallAppliance),
    circuits('Laundry circuits', laundry),
  ]
}

/** The demand steps over what is connected. */
export function lightingDemand(connectedVA: number, edition: Edition): WorksheetLine[] {
  const lines: WorksheetLine[] = []
  let from = 0
  for (const { toVA, share } of LIGHTING_DEMAND) {
    const part = Math.min(connectedVA, toVA) - from
    if (part <= 0) break
    lines.push({
      section: SECTION,
      label: from === 0 ? `First ${grouped(part)} VA` : `Next ${grouped(part)} VA`,
      basis: `at ${percent(share)}`,
      va: shareOf(part, share),
      article: loadArticle('lightingDemand', edition),
      counted: true,
    })
    from = toVA
  }
  return lines
}
