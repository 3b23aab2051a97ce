import { Prisma } from '../../prisma/generated/client.ts'
import type { Adoption, Amendment } from '../../trade/editions.ts'
import type { Equipment } from '../../trade/equipment.ts'
import type { Home } from '../../trade/home.ts'
import type { Property, Space } from '../../trade/property.ts'
import type { Jurisdiction } from '../../trade/whole-home/context.ts'
import type { Db } from '../db.ts'
import { Problem } from '../errors.ts'
import type { EquipmentView, PropertyView, SpaceView } from './home-schema.ts'

/** A home as it is stored and shown: what is out of use is left out. */
export interface HomeRecord {
  property: PropertyView
  jurisdiction: Jurisdiction | null
  spaces: SpaceView[]
  equipment: EquipmentView[]
}

/** Where nobody recorded who has authority: no edition is known, and rules that need one say so. */
const NO_JURISDICTION: Jurisdiction = { name: '', isUs: true, adoptions: [], amendments: [] }

/** A row that HOME_COLUMNS read. */
export interface HomeRow {
  property: Omit<PropertyView, 'fuels'> & { fuels: string[] }
  jurisdiction: { name: string; isUs: boolean; adoptions: Adoption[]; amendments: Amendment[] } | null
  spaces: SpaceView[]
  equipment: EquipmentView[]
}

const SPACES = Prisma.sql`
  (SELECT coalesce(json_agg(json_build_object('id', s.id, 'kind', s.kind, 'name', s.name, 'level', s.level,
      'areaSqFt', s.area_sq_ft, 'hasSink', s.has_sink, 'hasTubOrShower', s.has_tub_or_shower,
      'hasFuelBurner', s.has_fuel_burner, 'sleepingArea', s.sleeping_area, 'version', s.version)
      ORDER BY s.position, s.id), '[]')
     FROM space s WHERE s.property_id = p.id AND s.retired_on IS NULL)`

const EQUIPMENT = Prisma.sql`
  (SELECT coalesce(json_agg(json_build_object('id', e.id, 'kind', e.kind, 'label', e.label, 'spaceId', e.space_id,
      'parentId', e.parent_id, 'details', e.details, 'manufacturedOn', e.manufactured_on,
      'installedOn', e.installed_on, 'retiredOn', e.retired_on, 'replaceBy', e.replace_by,
      'replaceByAssumed', e.replace_by_assumed, 'lastCheckedOn', e.last_checked_on,
      'nextCheckOn', e.next_check_on, 'version', e.version) ORDER BY e.id), '[]')
     FROM equipment e WHERE e.property_id = p.id AND e.retired_on IS NULL)`

/** A home beside `property p`, in one statement and for any number of homes; days come as YYYY-MM-DD. */
export const HOME_COLUMNS = Prisma.sql`
  json_build_object('id', p.id, 'line1', p.line1, 'line2', p.line2, 'city', p.city, 'region', p.region,
    'postcode', p.postcode, 'latitude', p.latitude, 'longitude', p.longitude, 'timeZone', p.time_zone,
    'yearBuilt', p.year_built, 'yearAltered', p.year_altered, 'levels', p.levels, 'areaSqFt', p.area_sq_ft,
    'fuels', p.fuels, 'hasGasPiping', p.has_gas_piping, 'garage', p.garage,
    'garageOpensIntoHome', p.garage_opens_into_home, 'tenure', p.tenure, 'lastInspectedOn', p.last_inspected_on,
    'soldOn', p.sold_on, 'accessNotes', p.access_notes) AS property,
  (SELECT json_build_object('name', j.name, 'isUs', j.is_us, 'adoptions', j.adoptions, 'amendments', j.amendments)
     FROM jurisdiction j WHERE j.id = p.jurisdiction_id) AS jurisdiction,
  ${SPACES} AS spaces, ${EQUIPMENT} AS equipment`

/**
 * Beside `property p`: the rows that HOME_COLUMNS read, by the transactions that wrote them (PostgreSQL's xmin). Whoever
 * changes, adds or retires one of them changes it, and no writer has to remember to.
 */
export const HOME_STAMP = Prisma.sql`
  concat_ws(' ', p.xmin, (SELECT j.xmin FROM jurisdiction j WHERE j.id = p.jurisdiction_id), '/',
    (SELECT string_agg(s.xmin::text, ' ' ORDER BY s.id) FROM space s WHERE s.property_id = p.id AND s.retired_on IS NULL), '/',
    (SELECT string_agg(e.xmin::text, ' ' ORDER BY e.id)
       FROM equipment e WHERE e.property_id = p.id AND e.retired_on IS NULL))`

/** Homes by property id; ids that name none are left out. */
export async function listHomes(db: Db, propertyIds: readonly string[]): Promise<Map<string, HomeRecord>> {
  if (propertyIds.length === 0) return new Map()
  const rows = await db.$queryRaw<HomeRow[]>`
    SELECT ${HOME_COLUMNS} FROM property p WHERE p.id = ANY(${[...propertyIds]}::uuid[])`
  return new Map(rows.map((row) => [row.property.id, homeOf(row)]))
}

export async function getHome(db: Db, propertyId: string): Promise<HomeRecord> {
  const home = (await listHomes(db, [propertyId])).get(propertyId)
  if (!home) throw new Problem('not-found', 'There is no such home.')
  return home
}

/** No fuel on the record means that nobody wrote any down, not that the home burns none. */
export function homeOf({ property, ...rest }: HomeRow): HomeRecord {
  return { property: { ...property, fuels: property.fuels.length > 0 ? property.fuels : null }, ...rest }
}

/** The home as the rules read it. */
export function asHome({ property, spaces, equipment }: HomeRecord): Home {
  return {
    property: property as unknown as Property,
    spaces: spaces as unknown as Space[],
    equipment: equipment as unknown as Equipment[],
  }
}

export function jurisdictionOf(home: HomeRecord): Jurisdiction {
  return home.jurisdiction ?? NO_JURISDICTION
}
