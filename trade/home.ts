import type { Equipment, EquipmentKind, EquipmentOf } from './equipment.ts'
import type { Property, Space } from './property.ts'

/** Everything known about one home: what every rule about the whole of it is given. */
export interface Home {
  property: Property
  spaces: readonly Space[]
  equipment: readonly Equipment[]
}

/** Equipment of one kind that is still in use. */
export function inUse<Kind extends EquipmentKind>(home: Home, kind: Kind): EquipmentOf<Kind>[] {
  return home.equipment.filter(
    (each) => each.kind === kind && !each.retiredOn,
  ) as unknown as EquipmentOf<Kind>[]
}

export function spaceOf(home: Home, item: { spaceId: string | null }): Space | null {
  return home.spaces.find((space) => space.id === item.spaceId) ?? null
}
