import { type Day, day } from '../../../trade/dates.ts'
import type { Edition, RuleContext } from '../../../trade/editions.ts'
import type { DetailsOf, EquipmentKind, EquipmentOf } from '../../../trade/equipment.ts'
import type { Home } from '../../../trade/home.ts'
import type { Property, Space, SpaceKind } from '../../../trade/property.ts'

export const TODAY = day('2026-01-15')

export function context(
  editionNow: Edition | null = '2023',
  editionWhenBuilt: Edition | null = editionNow,
  more: Partial<RuleContext> = {},
): RuleContext {
  return { today: TODAY, editionNow, editionWhenBuilt, amendments: [], ...more }
}

let count = 0

export function device<Kind extends EquipmentKind>(
  kind: Kind,
  details: DetailsOf<Kind>,
  more: Partial<EquipmentOf<Kind>> = {},
): EquipmentOf<Kind> {
  const id = `${kind}-${++count}`
  return {
    id,
    kind,
    label: id,
    spaceId: null,
    parentId: null,
    details,
    manufacturedOn: null,
    installedOn: null,
    retiredOn: null,
    ...more,
  }
}

export function smokeIn(space: Space | null, details: DetailsOf<'alarm'> = {}): EquipmentOf<'alarm'> {
  return device('alarm', { senses: 'smoke', ...details }, { spaceId: space?.id ?? null })
}

export function space(kind: SpaceKind, level = 0, more: Partial<Space> = {}): Space {
  const id = `space-${++count}`
  return { id, kind, name: `${kind} ${id}`, level, ...more }
}

export const UNKNOWN_PROPERTY: Property = {
  yearBuilt: null,
  yearAltered: null,
  levels: null,
  areaSqFt: null,
  fuels: null,
  hasGasPiping: null,
  garage: null,
  garageOpensIntoHome: null,
  tenure: null,
  lastInspectedOn: null,
  soldOn: null,
}

export function home(
  spaces: readonly Space[],
  equipment: Home['equipment'] = [],
  property: Partial<Property> = {},
): Home {
  return { property: { ...UNKNOWN_PROPERTY, ...property }, spaces, equipment }
}

export const d = (text: string): Day => day(text)
