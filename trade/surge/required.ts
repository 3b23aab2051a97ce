import { type Day, latest } from '../dates.ts'
import type { RuleContext } from '../editions.ts'
import type { DetailsOf } from '../equipment.ts'
import { type Home, inUse } from '../home.ts'
import { type Basis, onClocks, shortfall, sound, undetermined } from '../judging.ts'
import { type Clocks, clocksOf, type Requirement } from '../requirement.ts'
import type { HomeRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'

/** Every dwelling service: type 1 or 2, in or beside the service equipment. Asked when that equipment is replaced. */
export const SURGE_REQUIRED: Requirement = {
  keys: ['surge.required'],
  rows: [{ since: '2020', required: true, article: '230.67', source: 'NFPA 70-2020 230.67' }],
  before: 'no',
}

type Device = Pick<DetailsOf<'surge-protector'>, 'type' | 'at'>

export interface SurgeRequiredInputs {
  devices: readonly Device[]
  lastReplaced?: DetailsOf<'service'>['lastReplaced']
  /** Day the service equipment as it stands was put in: the edition of that day is the one it was built under. */
  equipmentInstalledOn?: Day | null
  /** Service or panel is on the record, so somebody has looked: none recorded means none there. */
  looked: boolean
}

const AT_THE_SERVICE: readonly Device['at'][] = ['in-panel', 'beside-panel', 'meter-base']
const COUNTING_TYPES: readonly Device['type'][] = ['1', '2']

/** Whether the home has a device of the kind asked for. Which devices are named first does not matter. */
export function judgeSurgeRequired(inputs: SurgeRequiredInputs, context: RuleContext): Verdict {
  const { devices, lastReplaced, equipmentInstalledOn, looked } = inputs
  const clocks = clocksOf(SURGE_REQUIRED, context)
  const basis: Basis = onClocks(
    {
      rule: 'surge.required',
      inputs: { devices: devices.length, lastReplaced, equipmentInstalledOn, looked },
    },
    { ...clocks, whenBuilt: equipmentInstalledOn ? clocks.whenBuilt : undated(clocks, lastReplaced) },
  )
  const atService = devices.filter((each) => AT_THE_SERVICE.includes(each.at))
  if (atService.some((each) => COUNTING_TYPES.includes(each.type))) {
    return sound(basis, {
      technician: 'Type 1 or 2 surge protector at the service.',
      homeowner: 'A surge protector at the service guards the whole home.',
    })
  }
  if (devices.some((each) => !each.at || (!each.type && AT_THE_SERVICE.includes(each.at)))) {
    return undetermined(basis, ['Type and place of the surge protector'])
  }
  if (!looked && devices.length === 0) return undetermined(basis, ['Surge protector'])
  return shortfall(basis, context, {
    technician:
      devices.length === 0
        ? 'No surge protector at the service'
        : 'No type 1 or 2 surge protector at the service',
    homeowner:
      'The home has no surge protector at its service, so storms reach electronics unhindered. One can be added.',
  })
}

/** With no day on record the edition is the home's; the part replaced last says whether that can be the one. */
function undated(clocks: Clocks, lastReplaced: SurgeRequiredInputs['lastReplaced']): Clocks['whenBuilt'] {
  if (lastReplaced === 'service-equipment' && clocks.whenBuilt === 'no') return 'unknown'
  if (lastReplaced === 'meter-or-conductors' && clocks.whenBuilt === 'yes') return 'unknown'
  return clocks.whenBuilt
}

/** The newest of service panels and service; a service whose meter or conductors are new says nothing of the rest. */
function serviceEquipmentDay(home: Home): Day | null {
  const panels = inUse(home, 'panel').filter(({ details }) => details.role === 'service')
  const services = inUse(home, 'service').filter(
    ({ details }) => details.lastReplaced !== 'meter-or-conductors',
  )
  return latest(...[...panels, ...services].map(({ installedOn }) => installedOn))
}

/** Of several services the one with the most replaced counts. */
const LAST_REPLACED = ['service-equipment', 'meter-or-conductors', 'none'] as const

export const surgeRequired: HomeRule<SurgeRequiredInputs> = {
  id: 'surge.required',
  title: 'Surge protection of the service',
  watches: ['service', 'panel', 'surge-protector'],
  inputs: (home) => {
    const services = inUse(home, 'service')
    return {
      devices: inUse(home, 'surge-protector').map(({ details }) => ({ type: details.type, at: details.at })),
      lastReplaced: LAST_REPLACED.find((part) =>
        services.some(({ details }) => details.lastReplaced === part),
      ),
      equipmentInstalledOn: serviceEquipmentDay(home),
      looked: services.length > 0 || inUse(home, 'panel').length > 0,
    }
  },
  installedOn: ({ equipmentInstalledOn = null }) => equipmentInstalledOn,
  judge: (inputs, context) => [judgeSurgeRequired(inputs, context)],
}
