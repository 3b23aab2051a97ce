import type { Edition } from '../editions.ts'
import { valueIn } from '../requirement.ts'
import { nameplates } from './appliances.ts'
import { optionalClimateLines } from './climate.ts'
import { HEATER_SHARES, loadArticle, OPTIONAL_FIRST_VA, REMAINDER_SHARE } from './factors.ts'
import type { LoadInputs } from './inputs.ts'
import { connectedLighting } from './lighting.ts'
import { neutralLoad, obstacles } from './standard.ts'
import {
  columnOf,
  grouped,
  type LoadResult,
  percent,
  SERVICE_VOLTS,
  shareOf,
  type WorksheetLine,
} from './worksheet.ts'

/** Everything but heating and cooling, at its nameplate. */
export function generalLoads(inputs: LoadInputs, edition: Edition): WorksheetLine[] {
  return [
    ...connectedLighting(inputs, edition),
    ...nameplates('Cooking', inputs.cooking, 'optional', edition),
    ...nameplates('Clothes drying', inputs.dryers, 'optional', edition),
    ...nameplates('Fixed appliances', inputs.appliances, 'optional', edition),
    ...nameplates('Vehicle charging', inputs.vehicles, 'optional', edition),
    ...nameplates('Other loads', inputs.others, 'optional', edition),
  ]
}

/** First part in full, the rest at 40 %. */
export function firstAndRemainder(connectedVA: number, firstVA: number, article: string): WorksheetLine[] {
  const first = Math.min(connectedVA, firstVA)
  const lines = [
    {
      section: 'Demand',
      label: `First ${grouped(first)} VA`,
      basis: 'at 100 %',
      va: first,
      article,
      counted: true,
    },
  ]
  if (connectedVA > firstVA) {
    lines.push({
      section: 'Demand',
      label: `Remaining ${grouped(connectedVA - firstVA)} VA`,
      basis: `at ${percent(REMAINDER_SHARE)}`,
      va: shareOf(connectedVA - firstVA, REMAINDER_SHARE),
      article,
      counted: true,
    })
  }
  return lines
}

/** The optional method for one dwelling, NFPA 70 220.82, for services of 100 A and more. */
export function optionalLoad(inputs: LoadInputs, edition: Edition): LoadResult {
  const missing = obstacles(inputs, edition)
  if (missing.length > 0) return { missing }
  const general = generalLoads(inputs, edition)
  const connectedVA = general.reduce((sum, line) => sum + line.va, 0)
  const firstVA = valueIn(OPTIONAL_FIRST_VA, edition)!
  const article = loadArticle('optional', edition)
  const assumptions =
    inputs.electricHeat.length > 0 && inputs.heaterControls == null
      ? [`Electric heat counted as fewer than ${HEATER_SHARES.manyFrom} separate controls.`]
      : []
  return {
    worksheet: {
      method: 'optional',
      edition,
      article,
      volts: SERVICE_VOLTS,
      ...columnOf([
        ...general,
        ...firstAndRemainder(connectedVA, firstVA, `${article}(B)`),
        ...optionalClimateLines(inputs, edition),
      ]),
      neutral: neutralLoad(inputs, edition),
      assumptions,
    },
  }
}
