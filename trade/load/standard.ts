import { type Edition, isAtLeast } from '../editions.ts'
import { cooking, dryers, fixedAppliances, nameplates, vehicles } from './appliances.ts'
import { climateOf, largerClimateLine } from './climate.ts'
import { LARGEST_MOTOR_SHARE, loadArticle, LOADS_SINCE, NEUTRAL_SHARE } from './factors.ts'
import { type LoadInputs, missingLoads, type NameplateLoad, uses120 } from './inputs.ts'
import { connectedLighting, lightingDemand } from './lighting.ts'
import {
  columnOf,
  grouped,
  type LoadResult,
  percent,
  SERVICE_VOLTS,
  shareOf,
  type WorksheetColumn,
  type WorksheetLine,
} from './worksheet.ts'

export const BEFORE_LOAD_EDITIONS = `Load figures of editions before ${LOADS_SINCE}`
export const OUTSIDE_TABLES = 'A demand factor for that many or that large cooking appliances or dryers'
export const VEHICLE_FIGURE = 'How that edition counts vehicle charging'

/** What stands between the inputs and a worksheet under `edition`. */
export function obstacles(inputs: LoadInputs, edition: Edition): string[] {
  if (!isAtLeast(edition, LOADS_SINCE)) return [BEFORE_LOAD_EDITIONS]
  const missing = missingLoads(inputs)
  if (!cooking(inputs, edition) || !dryers(inputs, edition)) missing.push(OUTSIDE_TABLES)
  if (!vehicles(inputs, edition)) missing.push(VEHICLE_FIGURE)
  return missing
}

/** The standard method, NFPA 70 article 220 part III. */
export function standardLoad(inputs: LoadInputs, edition: Edition): LoadResult {
  const missing = obstacles(inputs, edition)
  if (missing.length > 0) return { missing }
  const connected = connectedLighting(inputs, edition)
  const lines = [
    ...connected,
    ...lightingDemand(total(connected), edition),
    ...(cooking(inputs, edition)?.lines ?? []),
    ...(dryers(inputs, edition)?.lines ?? []),
    ...fixedAppliances(inputs, edition).lines,
    ...(vehicles(inputs, edition) ?? []),
    ...nameplates('Other loads', inputs.others, 'others', edition, true),
    ...largerClimateLine(climateOf(inputs), edition),
    ...motorLine(motorsOf(inputs), 'Largest motor', edition),
  ]
  return {
    worksheet: {
      method: 'standard',
      edition,
      article: loadArticle('lighting', edition),
      volts: SERVICE_VOLTS,
      ...columnOf(lines),
      neutral: neutralLoad(inputs, edition),
      assumptions: [],
    },
  }
}

/** NFPA 70 220.61: what returns on the neutral. Used beside every method. */
export function neutralLoad(inputs: LoadInputs, edition: Edition): WorksheetColumn {
  const lighting = lightingDemand(total(connectedLighting(inputs, edition)), edition)
  const article = loadArticle('neutral', edition)
  const { shareFor } = fixedAppliances(inputs, edition)
  const line = (section: string, label: string, basis: string, va: number): WorksheetLine => ({
    section,
    label,
    basis,
    va,
    article,
    counted: true,
  })
  const lines = [line('Lighting and receptacles', 'After demand', 'as above', total(lighting))]
  for (const [section, demand] of [
    ['Cooking', cooking(inputs, edition)],
    ['Clothes drying', dryers(inputs, edition)],
  ] as const) {
    if (!demand || demand.va === 0) continue
    const basis = `${percent(NEUTRAL_SHARE)} of ${grouped(demand.va)} VA`
    lines.push(line(section, 'Demand', basis, shareOf(demand.va, NEUTRAL_SHARE)))
  }
  for (const load of inputs.appliances.filter(uses120)) {
    const share = shareFor(load)
    const basis = share < 1 ? `120 V, ${percent(share)} of the nameplate` : '120 V, nameplate'
    lines.push(line('Fixed appliances', load.name, basis, shareOf(load.va ?? 0, share)))
  }
  const { counted } = climateOf(inputs)
  for (const load of [...inputs.others, ...counted].filter(uses120)) {
    lines.push(line('Other loads', load.name, '120 V, nameplate', load.va ?? 0))
  }
  lines.push(...motorLine(motorsOf(inputs).filter(uses120), 'Largest 120 V motor', edition))
  return columnOf(lines)
}

/** Motors that count: those marked so, and the compressors on the side of heating and cooling that counts. */
function motorsOf(inputs: LoadInputs): NameplateLoad[] {
  const { counted } = climateOf(inputs)
  const compressors = [...inputs.airConditioners, ...inputs.heatPumps].filter((load) =>
    counted.includes(load),
  )
  const marked = [...inputs.appliances, ...inputs.others].filter((load) => load.motor)
  return [...compressors, ...marked]
}

function motorLine(motors: readonly NameplateLoad[], label: string, edition: Edition): WorksheetLine[] {
  const largest = Math.max(0, ...motors.map((motor) => motor.va ?? 0))
  if (largest === 0) return []
  return [
    {
      section: 'Motors',
      label,
      basis: `${percent(LARGEST_MOTOR_SHARE)} of ${grouped(largest)} VA`,
      va: shareOf(largest, LARGEST_MOTOR_SHARE),
      article: loadArticle('motor', edition),
      counted: true,
    },
  ]
}

function total(lines: readonly WorksheetLine[]): number {
  return lines.reduce((sum, line) => sum + line.va, 0)
}
