import type { Edition, RuleContext } from '../editions.ts'
import { EQUIPMENT_FIELDS } from '../equipment.ts'
import { type Basis, EDITION_MISSING, finding, sound, undetermined } from '../judging.ts'
import { inEveryEdition, nec } from '../nec.ts'
import { anAmps } from '../overcurrent/words.ts'
import type { HomeRule } from '../rule.ts'
import type { Figure, Verdict } from '../verdict.ts'
import { loadArticle, OPTIONAL_FROM_AMPS } from './factors.ts'
import { type LoadOfHome, loadOfHome } from './from-home.ts'
import type { LoadInputs } from './inputs.ts'
import { knownPart } from './known-part.ts'
import { optionalLoad } from './optional.ts'
import { standardLoad } from './standard.ts'
import { LOAD_METHODS, type LoadResult, type Worksheet } from './worksheet.ts'

const RULE = 'load.calculated-against-service'

/** Both methods are allowed; the optional one from 100 A on. The lower load is the one that binds. */
export function lowestLoad(load: LoadInputs, serviceAmps: number, edition: Edition): LoadResult {
  const standard = standardLoad(load, edition)
  if (!standard.worksheet || serviceAmps < OPTIONAL_FROM_AMPS) return standard
  const optional = optionalLoad(load, edition)
  return optional.worksheet && optional.worksheet.totalVA < standard.worksheet.totalVA ? optional : standard
}

/** The calculated load of the home against the rating of its service. */
export function judgeLoad({ load, serviceAmps, missing }: LoadOfHome, context: RuleContext): Verdict {
  const edition = context.editionNow
  const basis: Basis = {
    rule: RULE,
    inputs: {
      serviceAmps,
      areaSqFt: load.areaSqFt,
      smallApplianceCircuits: load.smallApplianceCircuits,
      laundryCircuits: load.laundryCircuits,
    },
    references: [nec('230.42', edition)],
    ...inEveryEdition(context),
  }
  const unknown = [...missing]
  if (serviceAmps === null) unknown.unshift(EQUIPMENT_FIELDS.service.ratingAmps.label)
  if (!edition) unknown.push(EDITION_MISSING)
  if (serviceAmps === null || !edition) return undetermined(basis, unknown)

  const result = lowestLoad(load, serviceAmps, edition)
  if (result.missing) unknown.push(...result.missing)
  // What is known may already be too much, whatever the rest turns out to be.
  const { worksheet } =
    unknown.length > 0 ? lowestLoad(knownPart(load, edition), serviceAmps, edition) : result
  if (!worksheet) return undetermined(basis, unknown)
  const shown: Basis = {
    ...basis,
    references: [...basis.references, nec(worksheet.article, edition, LOAD_METHODS[worksheet.method])],
    figures: figuresOf(worksheet, serviceAmps),
  }
  const margin = serviceAmps - worksheet.amps
  if (margin < 0) return tooMuch(shown, worksheet, serviceAmps, unknown.length > 0, edition)
  if (unknown.length > 0) return undetermined(shown, unknown)
  return sound(shown, {
    technician: `${worksheet.amps} A calculated on ${anAmps(serviceAmps)} service: ${margin} A left (${methodOf(worksheet)}).`,
    homeowner: `Your supply is large enough for what is in the home, with about ${margin} A to spare.`,
  })
}

function tooMuch(
  basis: Basis,
  worksheet: Worksheet,
  serviceAmps: number,
  isPartial: boolean,
  edition: Edition,
): Verdict {
  const atLeast = isPartial ? 'At least ' : ''
  return finding(basis, 'investigate', {
    technician: `${atLeast}${worksheet.amps} A calculated on ${anAmps(serviceAmps)} service: ${worksheet.amps - serviceAmps} A short (${methodOf(worksheet)}); measure demand by ${loadArticle('measured', edition)} or plan a larger service.`,
    homeowner:
      'On paper the home can draw more than its supply is made for. The main breaker guards against that; measuring what you really use tells whether a larger supply is needed.',
  })
}

function methodOf(worksheet: Worksheet): string {
  return LOAD_METHODS[worksheet.method].toLowerCase()
}

function figuresOf(worksheet: Worksheet, serviceAmps: number): Figure[] {
  return [
    { label: 'Calculated load', value: worksheet.totalVA, unit: 'VA' },
    { label: 'Calculated load at 240 V', value: worksheet.amps, unit: 'A' },
    { label: 'Service rating', value: serviceAmps, unit: 'A' },
    { label: 'Margin', value: serviceAmps - worksheet.amps, unit: 'A' },
    { label: 'Neutral load at 240 V', value: worksheet.neutral.amps, unit: 'A' },
  ]
}

export const calculatedAgainstService: HomeRule<LoadOfHome> = {
  id: RULE,
  title: 'Calculated load against the service',
  watches: ['service', 'panel', 'circuit', 'other'],
  inputs: loadOfHome,
  judge: (inputs, context) => [judgeLoad(inputs, context)],
}
