import fc from 'fast-check'
import { addDays, type Day, day } from '../../trade/dates.ts'
import { type Adoption, type Amendment, EDITIONS } from '../../trade/editions.ts'
import {
  type Equipment,
  EQUIPMENT_FIELDS,
  EQUIPMENT_KINDS,
  type EquipmentKind,
} from '../../trade/equipment.ts'
import type { Field, Fields } from '../../trade/fields.ts'
import type { Home } from '../../trade/home.ts'
import {
  type Fuel,
  FUELS,
  type Garage,
  GARAGES,
  type Property,
  type Space,
  SPACE_KINDS,
  type SpaceKind,
  type Tenure,
  TENURES,
} from '../../trade/property.ts'
import type { Jurisdiction } from '../../trade/whole-home/context.ts'

/** Records that the field definitions allow, sensible or not: what a rule may be handed. */

const FIRST_DAY = day('1900-01-01')
export const anyDay: fc.Arbitrary<Day> = fc
  .integer({ min: 0, max: 55_000 })
  .map((days) => addDays(FIRST_DAY, days))

const keysOf = <Key extends string>(record: Readonly<Record<Key, unknown>>) =>
  fc.constantFrom(...(Object.keys(record) as Key[]))
const unknownOr = <Value>(value: fc.Arbitrary<Value>) => fc.option(value, { nil: null })

export function anyValueOf(field: Field): fc.Arbitrary<unknown> {
  switch (field.type) {
    case 'choice':
      return keysOf(field.options)
    case 'yes-no':
      return fc.boolean()
    case 'date':
      return anyDay
    case 'text':
      return fc.oneof(
        fc.string({ maxLength: field.maxLength }),
        fc.constantFrom('Lights', 'Kitchen', '2015 Apr 12', '03/04/2016', '9228', 'Replace by 2027-06'),
      )
    case 'number':
      return field.step === 1
        ? fc.integer({ min: field.min, max: field.max })
        : fc.double({ min: field.min, max: field.max, noNaN: true })
  }
}

const arbitrariesOf = (fields: Fields): Record<string, fc.Arbitrary<unknown>> =>
  Object.fromEntries(Object.entries(fields).map(([name, field]) => [name, anyValueOf(field)]))

/** Any selection of the fields filled in. */
export function anyValuesOf(fields: Fields): fc.Arbitrary<Record<string, unknown>> {
  return fc.record(arbitrariesOf(fields), { requiredKeys: [] })
}

const SPACE_IDS = ['space-0', 'space-1', 'space-2', 'space-3']
const EQUIPMENT_IDS = Array.from({ length: 14 }, (_, i) => `piece-${i}`)

export function anyEquipmentOf(
  kind: EquipmentKind,
  id: fc.Arbitrary<string> = fc.constantFrom(...EQUIPMENT_IDS),
  details: fc.Arbitrary<Record<string, unknown>> = anyValuesOf(EQUIPMENT_FIELDS[kind]),
): fc.Arbitrary<Equipment> {
  return fc.record({
    id,
    kind: fc.constant(kind),
    label: fc.string({ maxLength: 20 }),
    spaceId: unknownOr(fc.constantFrom(...SPACE_IDS)),
    parentId: unknownOr(fc.constantFrom(...EQUIPMENT_IDS)),
    details,
    manufacturedOn: unknownOr(anyDay),
    installedOn: unknownOr(anyDay),
    retiredOn: fc.option(anyDay, { nil: null, freq: 8 }),
  }) as fc.Arbitrary<unknown> as fc.Arbitrary<Equipment>
}

/** With every detail filled in, so that rules which need many of them judge. */
export function anyWholeEquipmentOf(kind: EquipmentKind, id: fc.Arbitrary<string>): fc.Arbitrary<Equipment> {
  return anyEquipmentOf(kind, id, fc.record(arbitrariesOf(EQUIPMENT_FIELDS[kind])))
}

export function anyEquipment(id?: fc.Arbitrary<string>): fc.Arbitrary<Equipment> {
  return keysOf(EQUIPMENT_KINDS).chain((kind) => anyEquipmentOf(kind, id))
}

const anyYear = unknownOr(fc.integer({ min: 1860, max: 2026 }))

export const anyProperty: fc.Arbitrary<Property> = fc.record({
  yearBuilt: anyYear,
  yearAltered: anyYear,
  levels: unknownOr(fc.integer({ min: 1, max: 4 })),
  areaSqFt: unknownOr(fc.integer({ min: 100, max: 9000 })),
  fuels: unknownOr(fc.uniqueArray(keysOf<Fuel>(FUELS))),
  hasGasPiping: unknownOr(fc.boolean()),
  garage: unknownOr(keysOf<Garage>(GARAGES)),
  garageOpensIntoHome: unknownOr(fc.boolean()),
  tenure: unknownOr(keysOf<Tenure>(TENURES)),
  lastInspectedOn: unknownOr(anyDay),
  soldOn: unknownOr(anyDay),
})

function anySpace(id: string): fc.Arbitrary<Space> {
  return fc.record({
    id: fc.constant(id),
    kind: keysOf<SpaceKind>(SPACE_KINDS),
    name: fc.string({ maxLength: 12 }),
    level: fc.integer({ min: -1, max: 3 }),
    areaSqFt: unknownOr(fc.integer({ min: 0, max: 3000 })),
    hasSink: unknownOr(fc.boolean()),
    hasTubOrShower: unknownOr(fc.boolean()),
    hasFuelBurner: unknownOr(fc.boolean()),
    sleepingArea: unknownOr(fc.constantFrom('a', 'b')),
  })
}

export const anySpaces: fc.Arbitrary<Space[]> = fc
  .subarray(SPACE_IDS)
  .chain((ids) => fc.tuple(...ids.map(anySpace)))

export const anyHome: fc.Arbitrary<Home> = fc.record({
  property: anyProperty,
  spaces: anySpaces,
  equipment: fc
    .subarray(EQUIPMENT_IDS)
    .chain((ids) => fc.tuple(...ids.map((id) => anyEquipment(fc.constant(id))))),
})

const anyAdoption: fc.Arbitrary<Adoption> = fc.record({
  edition: fc.constantFrom(...EDITIONS),
  from: anyDay,
})

/** Amendments of the given requirements, among others that nobody knows. */
export function anyJurisdiction(requirements: readonly string[] = []): fc.Arbitrary<Jurisdiction> {
  const anyAmendment: fc.Arbitrary<Amendment> = fc.record({
    requirement: fc.constantFrom('nobody.knows', ...requirements),
    effect: fc.constantFrom('add', 'remove', 'postpone'),
    from: anyDay,
    source: fc.constant('Port Ansel ordinance'),
  })
  return fc.record({
    name: fc.constant('Port Ansel'),
    adoptions: fc.array(anyAdoption, { maxLength: 5 }),
    amendments: fc.array(anyAmendment, { maxLength: 3 }),
    isUs: fc.boolean(),
  })
}
