import type { Day } from '../dates.ts'
import { EQUIPMENT_KINDS, type Equipment } from '../equipment.ts'
import { type Home, spaceOf } from '../home.ts'

/** When a device is due, as the rules computed it; null where it is not known. */
export interface DeviceDates {
  replaceBy: Day | null
  nextCheckOn: Day | null
}

export interface DatedDevice extends DeviceDates {
  equipmentId: string
  kind: 'alarm' | 'surge-protector' | 'ground-fault' | 'arc-fault'
  name: string
  place: string
  manufacturedOn: Day | null
  installedOn: Day | null
}

/** What protects people in the home and ages: alarms, surge protectors, ground-fault and arc-fault devices. */
function protects(each: Equipment): DatedDevice['kind'] | null {
  switch (each.kind) {
    case 'alarm':
    case 'surge-protector':
      return each.kind
    case 'receptacle':
      return each.details.groundFault === 'itself' ? 'ground-fault' : null
    case 'circuit':
      if (each.details.device === 'gfci' || each.details.device === 'dual') return 'ground-fault'
      return each.details.device === 'afci' ? 'arc-fault' : null
    default:
      return null
  }
}

const ORDER: readonly DatedDevice['kind'][] = ['alarm', 'surge-protector', 'ground-fault', 'arc-fault']

/** Alarms first, then the other devices; within a kind what is due first comes first, what has no date last. */
export function datedDevices(home: Home, dates: ReadonlyMap<string, DeviceDates>): DatedDevice[] {
  const devices = home.equipment.flatMap((each) => {
    const kind = each.retiredOn ? null : protects(each)
    if (!kind) return []
    const { replaceBy = null, nextCheckOn = null } = dates.get(each.id) ?? {}
    return {
      equipmentId: each.id,
      kind,
      name: each.label || EQUIPMENT_KINDS[each.kind],
      place: spaceOf(home, each)?.name ?? '',
      manufacturedOn: each.manufacturedOn,
      installedOn: each.installedOn,
      replaceBy,
      nextCheckOn,
    }
  })
  const due = (device: DatedDevice) => device.replaceBy ?? device.nextCheckOn ?? '9999-12-31'
  return devices.sort(
    (a, b) =>
      ORDER.indexOf(a.kind) - ORDER.indexOf(b.kind) || (due(a) < due(b) ? -1 : due(a) > due(b) ? 1 : 0),
  )
}
