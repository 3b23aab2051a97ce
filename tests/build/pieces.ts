import type { Day } from '../../trade/dates.ts'
import type { DetailsOf, Equipment, EquipmentKind, EquipmentOf } from '../../trade/equipment.ts'

export interface More {
  spaceId?: string | null
  parentId?: string | null
  manufacturedOn?: Day | null
  installedOn?: Day | null
}

/** An installed thing with the given details and nothing else known. */
export function piece<Kind extends EquipmentKind>(
  kind: Kind,
  id: string,
  details: DetailsOf<Kind>,
  more: More = {},
): Equipment {
  const { spaceId = null, parentId = null, manufacturedOn = null, installedOn = null } = more
  const whole: EquipmentOf<Kind> = {
    id,
    kind,
    label: id,
    spaceId,
    parentId,
    details,
    manufacturedOn,
    installedOn,
    retiredOn: null,
  }
  return whole as unknown as Equipment
}

export function range(count: number): number[] {
  return Array.from({ length: count }, (_, i) => i)
}
