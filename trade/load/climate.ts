import type { Edition } from '../editions.ts'
import { HEATER_SHARES, loadArticle, SUPPLEMENT_SHARE } from './factors.ts'
import { type LoadInputs, type NameplateLoad, sumVA } from './inputs.ts'
import { grouped, percent, shareOf, type WorksheetLine } from './worksheet.ts'

const SECTION = 'Heating and cooling'

/** Heating and cooling do not run together: the larger counts, NFPA 70 220.60. A heat pump belongs to both. */
export interface Climate {
  heatingVA: number
  coolingVA: number
  /** The loads on the side that counts. */
  counted: readonly NameplateLoad[]
  countedVA: number
}

export function climateOf(inputs: LoadInputs): Climate {
  const strips = inputs.heatPumps.reduce((sum, pump) => sum + (pump.supplementVA ?? 0), 0)
  const pumps = sumVA(inputs.heatPumps)
  const heatingVA = sumVA(inputs.electricHeat) + sumVA(inputs.storageHeat) + pumps + strips
  const coolingVA = sumVA(inputs.airConditioners) + pumps
  const isCooling = coolingVA > heatingVA
  return {
    heatingVA,
    coolingVA,
    counted: isCooling
      ? [...inputs.airConditioners, ...inputs.heatPumps]
      : [...inputs.electricHeat, ...inputs.storageHeat, ...inputs.heatPumps],
    countedVA: Math.max(heatingVA, coolingVA),
  }
}

/** The larger of heating and cooling, in full. */
export function largerClimateLine(
  { heatingVA, coolingVA, countedVA }: Climate,
  edition: Edition,
): WorksheetLine[] {
  if (countedVA === 0) return []
  return [
    {
      section: SECTION,
      label: 'Larger of heating and cooling',
      basis: `heating ${grouped(heatingVA)} VA, cooling ${grouped(coolingVA)} VA`,
      va: countedVA,
      article: loadArticle('noncoincident', edition),
      counted: true,
    },
  ]
}

interface Choice {
  label: string
  basis: string
  va: number
}

/** NFPA 70 220.82(C): every choice that the home has, the largest counted. */
export function optionalClimateLines(inputs: LoadInputs, edition: Edition): WorksheetLine[] {
  const largest = optionalChoices(inputs).reduce<Choice | null>((a, b) => (a && a.va >= b.va ? a : b), null)
  return optionalChoices(inputs).map((choice) => ({
    section: SECTION,
    ...choice,
    article: `${loadArticle('optional', edition)}(C)`,
    counted: choice.label === largest?.label,
  }))
}

function optionalChoices(inputs: LoadInputs): Choice[] {
  const choices: Choice[] = []
  const add = (label: string, basis: string, va: number) => {
    if (va > 0) choices.push({ label, basis, va })
  }
  const cooling = sumVA(inputs.airConditioners)
  add('Air conditioning', `100 % of ${grouped(cooling)} VA`, cooling)
  const pumps = sumVA(inputs.heatPumps)
  const strips = inputs.heatPumps.reduce((sum, pump) => sum + (pump.supplementVA ?? 0), 0)
  add(
    'Heat pump',
    strips > 0
      ? `compressor ${grouped(pumps)} VA + ${percent(SUPPLEMENT_SHARE)} of ${grouped(strips)} VA`
      : `100 % of ${grouped(pumps)} VA`,
    pumps + shareOf(strips, SUPPLEMENT_SHARE),
  )
  const heat = sumVA(inputs.electricHeat)
  const isMany = (inputs.heaterControls ?? 0) >= HEATER_SHARES.manyFrom
  const share = isMany ? HEATER_SHARES.many : HEATER_SHARES.few
  const controls = isMany
    ? `${inputs.heaterControls} controls`
    : `fewer than ${HEATER_SHARES.manyFrom} controls`
  add('Electric heat', `${controls}: ${percent(share)} of ${grouped(heat)} VA`, shareOf(heat, share))
  const storage = sumVA(inputs.storageHeat)
  add('Thermal storage heat', `100 % of ${grouped(storage)} VA`, storage)
  return choices
}
