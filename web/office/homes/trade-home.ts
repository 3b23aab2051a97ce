import type { HomeView } from '../../../server/properties/home-schema.ts'
import type { JurisdictionView } from '../../../server/settings/schema.ts'
import type { Day } from '../../../trade/dates.ts'
import type { Equipment } from '../../../trade/equipment.ts'
import type { Home } from '../../../trade/home.ts'
import type { Property, Space } from '../../../trade/property.ts'
import type { Jurisdiction } from '../../../trade/whole-home/context.ts'

/** The home as the rules take it. */
export function tradeHome(home: HomeView): Home {
  return {
    property: { ...home, fuels: home.fuels.length > 0 ? home.fuels : null } as unknown as Property,
    spaces: home.spaces.filter((each) => !each.retiredOn) as unknown as Space[],
    equipment: home.equipment.filter((each) => !each.retiredOn) as unknown as Equipment[],
  }
}

/** Who has authority over it; without one no edition is known, and the rules say so. */
export function tradeJurisdiction(
  home: HomeView,
  all: readonly JurisdictionView[] | undefined,
): Jurisdiction {
  const found = all?.find((each) => each.id === home.jurisdictionId)
  return (
    (found as unknown as Jurisdiction | undefined) ?? { name: '', isUs: true, adoptions: [], amendments: [] }
  )
}

export const asDay = (text: string) => text as Day
