import type { Home } from '../home.ts'
import { inUse } from '../home.ts'
import { type Basis, finding, notApplicable, sound, tidy, undetermined } from '../judging.ts'
import type { ReadingRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'
import { CENTS_PER_DOLLAR, ledSaving } from './saving.ts'

export interface SavingReadings {
  centsPerKwh?: number
  lampCents?: number
  ledWatts?: number
}
export interface SavingInputs extends SavingReadings {
  /** Luminaires whose lamps take more than the LED lamp would. */
  luminaires: readonly { lamps: number | null; lampWatts: number | null; hoursPerDay: number | null }[]
}

/** Offered when it pays back within this time. Own choice. */
const WORTH_OFFERING_YEARS = 5

/** Saving of the whole home when every lamp that takes more than the LED lamp is changed. */
export function judgeSaving(inputs: SavingInputs): Verdict {
  const { luminaires, centsPerKwh, lampCents, ledWatts } = inputs
  const basis: Basis = {
    rule: 'lighting.saving',
    inputs: { centsPerKwh, lampCents, ledWatts, luminaires: luminaires.length },
    references: [{ code: 'common practice', row: 'cost ÷ (watts saved × hours × price)' }],
    figures: [],
    whenBuilt: 'no',
    today: 'no',
  }
  if (!luminaires.length) return notApplicable(basis, 'no luminaire is recorded')
  const savings = luminaires.map(({ lamps, lampWatts, hoursPerDay }) =>
    ledSaving({
      lamps,
      oldWatts: lampWatts,
      newWatts: ledWatts ?? null,
      hoursPerDay,
      costUsd: lamps !== null && lampCents !== undefined ? (lamps * lampCents) / CENTS_PER_DOLLAR : null,
      centsPerKwh: centsPerKwh ?? null,
    }),
  )
  const unknown = savings.flatMap((each) => (each.kind === 'unknown' ? each.missing : []))
  if (unknown.length) return undetermined(basis, [...new Set(unknown)])
  const swapped = luminaires.filter((_, index) => savings[index]!.kind === 'payback')
  const usd = savings.reduce((sum, each) => sum + (each.kind === 'payback' ? each.usdPerYear : 0), 0)
  const kwh = savings.reduce((sum, each) => sum + (each.kind === 'payback' ? each.kwhPerYear : 0), 0)
  const cost = swapped.reduce((sum, each) => sum + (each.lamps! * lampCents!) / CENTS_PER_DOLLAR, 0)
  if (!swapped.length) {
    return sound(basis, {
      technician: 'No lamp takes more than the LED lamp would, or nothing would be saved.',
      homeowner: 'Changing lamps would save you nothing.',
    })
  }
  const years = cost / usd
  basis.figures = [
    { label: 'Saved per year', value: kwh, unit: 'kWh' },
    { label: 'Saved per year', value: usd, unit: 'USD' },
    { label: 'Cost', value: cost, unit: 'USD' },
    { label: 'Paid back in', value: years, unit: 'years' },
  ]
  const technician = `${tidy(kwh)} kWh and ${usd.toFixed(2)} USD a year for ${cost.toFixed(2)} USD: ${tidy(years)} years.`
  if (years > WORTH_OFFERING_YEARS) {
    return sound(basis, { technician, homeowner: 'LED lamps would take long to pay for themselves here.' })
  }
  return finding(basis, 'improve', {
    technician,
    homeowner: `LED lamps would save about ${usd.toFixed(0)} dollars a year and pay for themselves.`,
  })
}

export const saving: ReadingRule<SavingReadings, SavingInputs> = {
  id: 'lighting.saving',
  title: 'Saving with LED lamps',
  inputs: ({ centsPerKwh, lampCents, ledWatts }, _subject, home: Home) => ({
    centsPerKwh,
    lampCents,
    ledWatts,
    luminaires: inUse(home, 'luminaire').map(({ details }) => ({
      lamps: details.lamps ?? null,
      lampWatts: details.lampWatts ?? null,
      hoursPerDay: details.hoursPerDay ?? null,
    })),
  }),
  judge: judgeSaving,
}
