import { alarms } from './areas/alarms.ts'
import { equipmentDisconnect } from './areas/equipment-disconnect.ts'
import { gasBond } from './areas/gas-bond.ts'
import { groundFault } from './areas/ground-fault.ts'
import { grounding } from './areas/grounding.ts'
import { lighting } from './areas/lighting.ts'
import { otherEquipment } from './areas/other-equipment.ts'
import { panelCoverOff } from './areas/panel-cover-off.ts'
import { panelCoverOn } from './areas/panel-cover-on.ts'
import { receptacles } from './areas/receptacles.ts'
import { service } from './areas/service.ts'
import { surge } from './areas/surge.ts'
import { switches } from './areas/switches.ts'
import type { Area, Checklist, Item } from './item.ts'

/** The inspection in the order it is walked: from the street inwards. */
export const CHECKLIST: Checklist = {
  version: 1,
  areas: [
    service,
    equipmentDisconnect,
    panelCoverOn,
    surge,
    panelCoverOff,
    grounding,
    gasBond,
    groundFault,
    receptacles,
    switches,
    lighting,
    alarms,
    otherEquipment,
  ],
}

const ITEMS: ReadonlyMap<string, { area: Area; item: Item }> = new Map(
  CHECKLIST.areas.flatMap((area) => area.items.map((item) => [item.id, { area, item }] as const)),
)

/** The item with that id, or null when this version has none. */
export function findItem(id: string): Item | null {
  return ITEMS.get(id)?.item ?? null
}

export function findAreaOf(itemId: string): Area | null {
  return ITEMS.get(itemId)?.area ?? null
}
