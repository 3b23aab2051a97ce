import type { RuleContext } from '../editions.ts'
import type { DetailsOf } from '../equipment.ts'
import { inUse } from '../home.ts'
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
  /** Service or panel is on the record, so somebody has looked: none recorded means none there. */
  looked: boolean
}

const AT_THE_SERVICE: readonly Device['at'][] = ['in-panel', 'beside-panel', 'meter-base']
const COUNTING_TYPES: readonly Device['type'][] = ['1', '2']

/** Whether the home has a device of the kind asked for. Which devices are named first does not matter. */
export function judgeSurgeRequired(inputs: SurgeRequiredInputs, context: RuleContext): Verdict {
  const { devices, lastReplaced, looked } = inputs
  const clocks = clocksOf(SURGE_REQUIRED, context)
  const basis: Basis = onClocks(
    { rule: 'surge.required', inputs: { devices: devices.length, lastReplaced, looked } },
    { ...clocks, whenBuilt: whenBuilt(clocks, lastReplaced) },
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

/** The part replaced last decides which edition counted; the day of that work may be another than the record's. */
function whenBuilt(clocks: Clocks, lastReplaced: SurgeRequiredInputs['lastReplaced']): Clocks['whenBuilt'] {
  if (lastReplaced === 'service-equipment' && clocks.whenBuilt === 'no') return 'unknown'
  if (lastReplaced === 'meter-or-conductors' && clocks.whenBuilt === 'yes') return 'unknown'
  return clocks.whenBuilt
}

export const surgeRequired: HomeRule<SurgeRequiredInputs> = {
  id: 'surge.required',
  title: 'Surge protection of the service',
  watches: ['service', 'panel', 'surge-protector'],
  inputs: (home) => {
    const services = inUse(home, 'service')
    return {
      devices: inUse(home, 'surge-protector').map(({ details }) => ({ type: details.type, at: details.at })),
      lastReplaced: services.map(({ details }) => details.lastReplaced).find((each) => each != null),
      looked: services.length > 0 || inUse(home, 'panel').length > 0,
    }
  },
  judge: (inputs, context) => [judgeSurgeRequired(inputs, context)],
}
