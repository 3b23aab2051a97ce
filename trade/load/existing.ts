import type { Edition } from '../editions.ts'
import { valueIn } from '../requirement.ts'
import { climateOf, largerClimateLine } from './climate.ts'
import { EXISTING_FIRST_VA, loadArticle, MEASURED_SHARE } from './factors.ts'
import type { LoadInputs } from './inputs.ts'
import { firstAndRemainder, generalLoads } from './optional.ts'
import { neutralLoad, obstacles } from './standard.ts'
import { ampsAt240, columnOf, type LoadResult, SERVICE_VOLTS, shareOf } from './worksheet.ts'

export const EXISTING_FIGURES = 'Demand factors of the existing-dwelling method in that edition'

/**
 * Existing and new loads together on a service that stands, NFPA 70 220.83: part (B), with heating and cooling in
 * full (from memory), when some is added; part (A), all in one sum, when none is.
 */
export function existingLoad(
  inputs: LoadInputs,
  edition: Edition,
  { addsHeatingOrCooling }: { addsHeatingOrCooling: boolean },
): LoadResult {
  const missing = obstacles(inputs, edition)
  const firstVA = valueIn(EXISTING_FIRST_VA, edition)
  if (firstVA === null && missing.length === 0) missing.push(EXISTING_FIGURES)
  if (missing.length > 0) return { missing }
  const general = generalLoads(inputs, edition)
  const climate = largerClimateLine(climateOf(inputs), edition)
  const article = `${loadArticle('existing', edition)}${addsHeatingOrCooling ? '(B)' : '(A)'}`
  const pooled = addsHeatingOrCooling ? general : [...general, ...climate.map(uncounted)]
  const pooledVA = pooled.reduce((sum, line) => sum + line.va, 0)
  return {
    worksheet: {
      method: 'existing',
      edition,
      article,
      volts: SERVICE_VOLTS,
      ...columnOf([
        ...pooled,
        ...firstAndRemainder(pooledVA, firstVA!, article),
        ...(addsHeatingOrCooling ? climate : []),
      ]),
      neutral: neutralLoad(inputs, edition),
      assumptions:
        !addsHeatingOrCooling && climate.length > 0
          ? [
              'Existing heating and cooling are summed with the other loads; the article does not name them and readings differ.',
            ]
          : [],
    },
  }
}

function uncounted<Line extends { counted: boolean }>(line: Line): Line {
  return { ...line, counted: false }
}

export interface MeasuredDemand {
  va: number
  amps: number
  article: string
}

/**
 * Measured instead of calculated, NFPA 70 220.87: the highest demand of a year, or of 30 days of 15-minute averages on
 * the heavier leg while people live there, with a quarter on top, plus what is added.
 */
export function measuredLoad(highestVA: number, addedVA: number, edition: Edition): MeasuredDemand {
  const va = shareOf(highestVA, MEASURED_SHARE) + addedVA
  return { va, amps: ampsAt240(va), article: loadArticle('measured', edition) }
}
