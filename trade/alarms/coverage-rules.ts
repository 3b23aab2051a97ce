import type { RuleContext } from '../editions.ts'
import type { Home } from '../home.ts'
import { type Basis, notApplicable, onClocks, sound, undetermined } from '../judging.ts'
import type { HomeRule } from '../rule.ts'
import type { Reference, Verdict } from '../verdict.ts'
import { type CoveragePicture, type CoveragePlace, coveragePicture, type Watch } from './coverage-picture.ts'
import { alarmShortfall } from './shortfall.ts'

/** Federal advice for every home, whatever its code. */
const ADVICE: Reference = {
  code: 'CPSC',
  article: 'smoke and carbon monoxide alarms',
  row: 'outside every sleeping area and on each level',
}

interface Gas {
  rule: string
  what: string
  watch: (place: CoveragePlace) => Watch
  homeowner: string
}
const SMOKE: Gas = {
  rule: 'alarms.smoke-coverage',
  what: 'smoke alarm',
  watch: (place) => place.smoke,
  homeowner: 'A smoke alarm is missing',
}
const CO: Gas = {
  rule: 'alarms.co-coverage',
  what: 'carbon monoxide alarm',
  watch: (place) => place.co,
  homeowner: 'A carbon monoxide alarm is missing',
}

export function judgeSmokeCoverage(home: Home, context: RuleContext): Verdict[] {
  const basis: Basis = { rule: SMOKE.rule, inputs: {}, references: [ADVICE] }
  if (!home.spaces.length) return [undetermined(basis, ['Rooms and their levels'])]
  const picture = coveragePicture(home, context)
  const unrecorded = unrecordedLevels(home, picture)
  const verdicts = judgePlaces(SMOKE, picture, context)
  if (unrecorded > 0) {
    const figures = [{ label: 'Levels without a room on record', value: unrecorded, unit: 'count' } as const]
    verdicts.push(undetermined({ ...basis, figures }, ['Rooms on every level of the home']))
  }
  return verdicts
}

export function judgeCoCoverage(home: Home, context: RuleContext): Verdict[] {
  const picture = coveragePicture(home, context)
  const { possible, why, missing } = picture.coSources
  const basis: Basis = { rule: CO.rule, inputs: { sources: possible }, references: [ADVICE] }
  if (possible === 'no') return [notApplicable(basis, why)]
  if (!home.spaces.length) return [undetermined(basis, [...missing, 'Rooms and their levels'])]
  return judgePlaces(CO, picture, context)
}

/** A level that the property record counts and no room stands on cannot be covered or missing anything. */
function unrecordedLevels({ property }: Home, picture: CoveragePicture): number {
  return property.levels === null ? 0 : property.levels - picture.levels.length
}

/** One finding for each place that lacks an alarm, one verdict for all that cannot be told, else one that is sound. */
function judgePlaces(gas: Gas, picture: CoveragePicture, context: RuleContext): Verdict[] {
  const places = picture.levels
    .flatMap((level) => level.places)
    .filter((place) => gas.watch(place).wanted !== 'no')
  const having = (present: Watch['present']) => places.filter((place) => gas.watch(place).present === present)
  const inputs = { places: places.length, covered: having('yes').length }
  const missing = having('no')
  const verdicts = missing
    .filter((place) => gas.watch(place).wanted !== 'unknown')
    .map((place) => missingAt(place, gas, inputs, context))
  const unsettled = [
    ...having('unknown'),
    ...missing.filter((place) => gas.watch(place).wanted === 'unknown'),
  ]
  const basis: Basis = { rule: gas.rule, inputs, references: [ADVICE] }
  if (unsettled.length) {
    const names = unsettled.map((place) => place.name).join(', ')
    verdicts.push(
      undetermined(basis, [...whatSettles(unsettled, gas, picture), `${capital(gas.what)}: ${names}`]),
    )
  }
  if (verdicts.length) return verdicts
  if (!places.length) return [notApplicable(basis, 'no place of the home wants one')]
  const { clocks } = gas.watch(places[0]!)
  return [
    sound(onClocks({ rule: gas.rule, inputs }, clocks, [ADVICE]), {
      technician: `A ${gas.what} at each of ${places.length} places that want one.`,
      homeowner: `There is a ${gas.what} wherever your home wants one.`,
    }),
  ]
}

function whatSettles(places: readonly CoveragePlace[], gas: Gas, { coSources }: CoveragePicture): string[] {
  const bySource = places.some((place) => gas.watch(place).wanted === 'unknown') ? coSources.missing : []
  const byPlace = places.some((place) => gas.watch(place).present === 'unknown')
  return [...bySource, ...(byPlace ? ['Room of each alarm and what it senses'] : [])]
}

function missingAt(
  place: CoveragePlace,
  gas: Gas,
  counts: { places: number; covered: number },
  context: RuleContext,
): Verdict {
  const { clocks } = gas.watch(place)
  const inputs = { ...counts, place: place.kind, name: place.name, level: place.level }
  const heat = place.hasHeatAlarm && gas === SMOKE ? ' (a heat alarm is no substitute)' : ''
  return alarmShortfall(onClocks({ rule: gas.rule, inputs }, clocks, [ADVICE]), context, {
    technician: `No ${gas.what}: ${place.name}${heat}`,
    homeowner: `${gas.homeowner}: ${place.name}.`,
  })
}

function capital(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1)
}

export const smokeCoverage: HomeRule<Home> = {
  id: SMOKE.rule,
  title: 'Smoke alarms where people sleep and on each level',
  watches: ['alarm'],
  inputs: (home) => home,
  judge: judgeSmokeCoverage,
}

export const coCoverage: HomeRule<Home> = {
  id: CO.rule,
  title: 'Carbon monoxide alarms',
  watches: ['alarm'],
  inputs: (home) => home,
  judge: judgeCoCoverage,
}
