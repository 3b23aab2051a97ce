import type { Equipment, EquipmentKind, EquipmentOf } from './equipment.ts'
import type { Property, Space } from './property.ts'

/** Everything known about one home: what every rule about the whole of it is given. */
export interface Home {
  property: Property
  spaces: readonly Space[]
  equipment: readonly Equipment[]
}

/**
 * Ways into a home's record, gathered once per record however many rules ask. A home is a value: to change it is to
 * make a new one, so what was gathered stays true.
 */
interface HomeIndex {
  /** In use only. */
  byKind: ReadonlyMap<EquipmentKind, readonly Equipment[]>
  /** In use only: circuits of a panel, panels fed by a circuit; under null what belongs to nothing. */
  byParent: ReadonlyMap<string | null, readonly Equipment[]>
  /** In use only; under null what stands in no space on record. */
  bySpace: ReadonlyMap<string | null, readonly Equipment[]>
  /** Retired ones too. */
  equipment: ReadonlyMap<string | null, Equipment>
  spaces: ReadonlyMap<string | null, Space>
}

const indexes = new WeakMap<Home, HomeIndex>()
const NONE: readonly never[] = []

function addTo<Key>(groups: Map<Key, Equipment[]>, key: Key, each: Equipment): void {
  const group = groups.get(key)
  if (group) group.push(each)
  else groups.set(key, [each])
}

function gather(home: Home): HomeIndex {
  const byKind = new Map<EquipmentKind, Equipment[]>()
  const byParent = new Map<string | null, Equipment[]>()
  const bySpace = new Map<string | null, Equipment[]>()
  const equipment = new Map<string, Equipment>()
  for (const each of home.equipment) {
    equipment.set(each.id, each)
    if (each.retiredOn) continue
    addTo(byKind, each.kind, each)
    addTo(byParent, each.parentId, each)
    addTo(bySpace, each.spaceId, each)
  }
  return { byKind, byParent, bySpace, equipment, spaces: new Map(home.spaces.map((each) => [each.id, each])) }
}

function indexOf(home: Home): HomeIndex {
  let index = indexes.get(home)
  if (!index) indexes.set(home, (index = gather(home)))
  return index
}

/** Equipment of one kind that is still in use, in the order it was recorded. */
export function inUse<Kind extends EquipmentKind>(home: Home, kind: Kind): readonly EquipmentOf<Kind>[] {
  return (indexOf(home).byKind.get(kind) ?? NONE) as unknown as readonly EquipmentOf<Kind>[]
}

/** What belongs to this piece and is still in use: the circuits of a panel, the sub-panel of a feeding circuit. */
export function childrenOf(home: Home, id: string): readonly Equipment[] {
  return indexOf(home).byParent.get(id) ?? NONE
}

/** What is installed in this space and still in use. */
export function equipmentIn(home: Home, spaceId: string): readonly Equipment[] {
  return indexOf(home).bySpace.get(spaceId) ?? NONE
}

export function findEquipment(home: Home, id: string | null): Equipment | null {
  return indexOf(home).equipment.get(id) ?? null
}

export function spaceOf(home: Home, item: { spaceId: string | null }): Space | null {
  return indexOf(home).spaces.get(item.spaceId) ?? null
}
