import { yearOf } from '../dates.ts'
import type { RuleContext } from '../editions.ts'
import { type Home, inUse } from '../home.ts'
import { type Basis, notApplicable, sound, undetermined } from '../judging.ts'
import type { Property } from '../property.ts'
import type { HomeRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'
import { BREAKER_LIFE_YEARS, type Confidence, ERA_HINTS, type EraHint, GROUNDED_SINCE } from './hints.ts'

export interface ToLookFor extends EraHint {
  confidence: Confidence
  /** The year that points to it. */
  year: number
}

/**
 * What the age of a home suggests. An alteration adds the hints of its own year, never surely, because nobody knows what
 * it touched; it takes none away. Empty where no year is known: the caller has to ask for it.
 */
export function whatToLookFor({
  yearBuilt,
  yearAltered,
}: Pick<Property, 'yearBuilt' | 'yearAltered'>): ToLookFor[] {
  return ERA_HINTS.flatMap((hint) => {
    const built = confidenceIn(hint, yearBuilt)
    if (built) return [{ ...hint, confidence: built, year: yearBuilt! }]
    return confidenceIn(hint, yearAltered)
      ? [{ ...hint, confidence: 'possible' as const, year: yearAltered! }]
      : []
  })
}

function confidenceIn({ windows }: EraHint, year: number | null): Confidence | null {
  if (year === null) return null
  return windows.find(({ from, to }) => year >= from && year <= to)?.confidence ?? null
}

/** Where receptacles of the grounding type can be expected in a home of that year. */
export function groundedPlacesExpected(yearBuilt: number): string[] {
  return GROUNDED_SINCE.filter(({ year }) => yearBuilt >= year).map(({ where }) => where)
}

export interface LookForInputs {
  yearBuilt: number | null
  yearAltered: number | null
  /** What the record answers already: every circuit's wiring, every circuit's material, and so on. */
  answered: readonly string[]
}

/** Undetermined until somebody has looked at everything that the age of the home suggests. */
export function judgeLookFor(
  { yearBuilt, yearAltered, answered }: LookForInputs,
  context: RuleContext,
): Verdict[] {
  const hints = whatToLookFor({ yearBuilt, yearAltered })
  const open = hints.filter(({ id }) => !answered.includes(id))
  const basis: Basis = {
    rule: 'era.look-for',
    inputs: { yearBuilt, yearAltered, suggested: hints.length, open: open.length },
    references: hints.map(({ what, source }) => ({ code: 'common practice', article: source, row: what })),
    whenBuilt: 'no',
    today: 'no',
  }
  if (yearBuilt === null) return [undetermined(basis, ['Year built', ...open.map(sentence)])]
  const age = yearOf(context.today) - yearBuilt
  const breakers =
    age > BREAKER_LIFE_YEARS ? ` Breakers of that time are past their usual ${BREAKER_LIFE_YEARS} years.` : ''
  if (open.length) return [undetermined(basis, open.map(sentence))]
  if (!hints.length) return [notApplicable(basis, 'nothing is known to be usual in homes of that year')]
  return [
    sound(basis, {
      technician: `Looked at: ${hints.map(({ what }) => what.toLowerCase()).join(', ')}.${breakers}`,
      homeowner: 'What homes of this age often hide has been looked for.',
    }),
  ]
}

function sentence({ what, look, confidence }: ToLookFor): string {
  return `${what} (${confidence}). ${look}`
}

export const lookFor: HomeRule<LookForInputs> = {
  id: 'era.look-for',
  title: 'What homes of this age hide',
  watches: ['circuit', 'receptacle', 'panel'],
  inputs: (home) => ({
    yearBuilt: home.property.yearBuilt,
    yearAltered: home.property.yearAltered,
    answered: answeredBy(home),
  }),
  judge: judgeLookFor,
}

function answeredBy(home: Home): string[] {
  const circuits = inUse(home, 'circuit')
  const receptacles = inUse(home, 'receptacle')
  const panels = inUse(home, 'panel')
  const wiring = circuits.length > 0 && circuits.every(({ details }) => details.wiring !== undefined)
  const material = circuits.length > 0 && circuits.every(({ details }) => details.material !== undefined)
  const ground =
    receptacles.length > 0 && receptacles.every(({ details }) => details.groundPresent !== undefined)
  const bus = panels.length > 0 && panels.every(({ details }) => details.splitBus !== undefined)
  return [
    ...(wiring ? ['knob-and-tube', 'early-armoured-cable', 'cloth-cable'] : []),
    ...(material ? ['aluminium-branch-wiring'] : []),
    ...(ground ? ['two-wire-circuits'] : []),
    ...(bus ? ['split-bus-panel'] : []),
  ]
}
