import { addDays, addYears, type Day, dayOf, yearOf } from '../../trade/dates.ts'
import type { Fuel, Garage, SpaceKind } from '../../trade/property.ts'
import type { Prisma } from '../generated/client.ts'
import type { Chance } from './chance.ts'
import { QUARTERS, STREETS } from './words.ts'

export interface DemoHome {
  property: Prisma.PropertyCreateManyInput & {
    id: string
    yearBuilt: number
    areaSqFt: number
    levels: number
  }
  spaces: (Prisma.SpaceCreateManyInput & { id: string; kind: SpaceKind; level: number })[]
  bedrooms: number
  hasBasement: boolean
  hasGas: boolean
  garage: Garage
  rented: boolean
}

export const asDate = (value: Day) => new Date(`${value}T00:00:00Z`)

/** A home as the town has them: more old ones than new ones, two storeys and a basement more often than not. */
export function demoHome(
  chance: Chance,
  number: number,
  today: Day,
  jurisdictions: readonly string[],
): DemoHome {
  const createdAt = asDate(addDays(today, -chance.whole(30, 900)))
  const quarter = chance.pick(QUARTERS)
  const yearBuilt = buildYear(chance, yearOf(today))
  const levels = chance.percent(62) ? 2 : 1
  const bedrooms = chance.whole(2, levels === 2 ? 5 : 3)
  const hasBasement = yearBuilt < 1990 ? chance.percent(72) : chance.percent(38)
  const hasGas = chance.percent(48)
  const garage: Garage = chance.percent(45) ? 'attached' : chance.percent(35) ? 'detached' : 'none'
  const rented = chance.percent(22)
  const fuels: Fuel[] = hasGas ? ['natural-gas'] : [chance.pick(['electric', 'oil', 'propane'] as const)]
  if (chance.percent(14)) fuels.push('wood')
  const areaSqFt = 620 + bedrooms * 270 + (levels - 1) * 260 + chance.whole(0, 380)
  const id = chance.id(createdAt)
  const renovated = yearBuilt < 1995 && chance.percent(40)
  const property = {
    id,
    line1: `${1 + ((number * 7) % 180)} ${STREETS[number % STREETS.length]}`,
    city: quarter.city,
    region: 'ME',
    postcode: quarter.postcode,
    latitude: round(quarter.latitude + (chance.next() - 0.5) * 0.022),
    longitude: round(quarter.longitude + (chance.next() - 0.5) * 0.03),
    timeZone: 'America/New_York',
    jurisdictionId: quarter.city === 'Port Ansel' ? jurisdictions[0]! : jurisdictions[1]!,
    yearBuilt,
    yearAltered: renovated ? chance.whole(Math.max(yearBuilt + 20, 1985), yearOf(today) - 1) : null,
    levels,
    areaSqFt,
    fuels,
    hasGasPiping: hasGas || fuels.includes('propane'),
    garage,
    garageOpensIntoHome: garage === 'attached' ? chance.percent(85) : null,
    tenure: rented ? 'rented' : 'owner',
    accessNotes: chance.percent(25) ? chance.pick(ACCESS_NOTES) : '',
    createdAt,
    updatedAt: createdAt,
  }
  return {
    property,
    spaces: spacesOf(chance, { id, levels, bedrooms, hasBasement, garage, yearBuilt, hasGas }),
    bedrooms,
    hasBasement,
    hasGas,
    garage,
    rented,
  }
}

const ACCESS_NOTES = [
  'Ring twice; the bell is slow.',
  'Dog in the yard, friendly.',
  'Key with the neighbor at the blue door.',
  'Park on the street, the drive is steep.',
  'Panel is behind the coats in the hall.',
  'Low beam on the basement stairs.',
]

const round = (value: number) => Math.round(value * 100_000) / 100_000

function buildYear(chance: Chance, thisYear: number): number {
  const [from, to] = chance.pick([
    [1905, 1939],
    [1940, 1959],
    [1946, 1964],
    [1960, 1976],
    [1965, 1974],
    [1977, 1991],
    [1985, 1999],
    [2000, 2012],
    [2008, thisYear - 2],
  ] as const)
  return chance.whole(from, to)
}

interface Plan {
  id: string
  levels: number
  bedrooms: number
  hasBasement: boolean
  garage: Garage
  yearBuilt: number
  hasGas: boolean
}

function spacesOf(chance: Chance, plan: Plan): DemoHome['spaces'] {
  const top = plan.levels - 1
  const rooms: [SpaceKind, string, number][] = [
    ['outdoors', 'Outdoors', 0],
    ['hall', 'Entry hall', 0],
    ['living', 'Living room', 0],
    ['kitchen', 'Kitchen', 0],
    ...(chance.percent(55) ? ([['dining', 'Dining room', 0]] as [SpaceKind, string, number][]) : []),
    ['bathroom', plan.levels === 2 ? 'Half bath' : 'Bathroom', 0],
    ...(plan.levels === 2
      ? ([
          ['stairs', 'Stairs', 0],
          ['hall', 'Upper hall', 1],
          ['bathroom', 'Upper bathroom', 1],
        ] as [SpaceKind, string, number][])
      : []),
    ...Array.from({ length: plan.bedrooms }, (_, index): [SpaceKind, string, number] => [
      'bedroom',
      BEDROOMS[index]!,
      top,
    ]),
    ['laundry', 'Laundry', plan.hasBasement ? -1 : 0],
    ...(plan.hasBasement
      ? ([
          [
            plan.yearBuilt < 1975 || chance.percent(60) ? 'basement-unfinished' : 'basement-finished',
            'Basement',
            -1,
          ],
        ] as [SpaceKind, string, number][])
      : ([['crawl-space', 'Crawl space', -1]] as [SpaceKind, string, number][])),
    ...(plan.garage !== 'none' ? ([['garage', 'Garage', 0]] as [SpaceKind, string, number][]) : []),
  ]
  return rooms.map(([kind, name, level], position) => ({
    id: chance.id(new Date(0)),
    propertyId: plan.id,
    kind,
    name,
    level,
    position,
    areaSqFt: AREAS[kind] ?? null,
    hasSink: kind === 'kitchen' || kind === 'bathroom' || kind === 'laundry' ? true : null,
    hasTubOrShower: kind === 'bathroom' ? name !== 'Half bath' : null,
    hasFuelBurner: kind.startsWith('basement') ? plan.hasGas : null,
  }))
}

const BEDROOMS = ['Main bedroom', 'Northeast bedroom', 'Southeast bedroom', 'Back bedroom', 'Small bedroom']
const AREAS: Partial<Record<SpaceKind, number>> = {
  bedroom: 130,
  living: 240,
  kitchen: 168,
  bathroom: 60,
  hall: 70,
  dining: 150,
  laundry: 55,
  garage: 400,
}

/** A day in a year, never after today. */
export function someDayIn(chance: Chance, year: number, today: Day): Day {
  const value = dayOf(year, chance.whole(1, 12), chance.whole(1, 28))
  return value > today ? addYears(value, -1) : value
}
