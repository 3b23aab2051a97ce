import { type DetailsOf, EQUIPMENT_FIELDS, type EquipmentOf } from '../equipment.ts'
import { type Home, inUse } from '../home.ts'
import { type LoadInputs, type NameplateLoad, NO_LOAD } from './inputs.ts'

const FIELDS = EQUIPMENT_FIELDS.circuit
type Serves = NonNullable<DetailsOf<'circuit'>['serves']>
type List =
  | 'cooking'
  | 'dryers'
  | 'appliances'
  | 'vehicles'
  | 'others'
  | 'airConditioners'
  | 'heatPumps'
  | 'electricHeat'

/** Where the load of a circuit is entered. What is not here is counted by floor area or by circuit. */
const LIST_OF: Readonly<Partial<Record<Serves, List>>> = {
  range: 'cooking',
  dryer: 'dryers',
  'water-heater': 'appliances',
  dishwasher: 'appliances',
  disposer: 'appliances',
  other: 'appliances',
  vehicle: 'vehicles',
  motor: 'others',
  'hot-tub': 'others',
  feeder: 'others',
  'air-conditioner': 'airConditioners',
  'heat-pump': 'heatPumps',
  'electric-heat': 'electricHeat',
}
const MOTORS: readonly Serves[] = ['disposer', 'motor']

type What = NonNullable<DetailsOf<'other'>['what']>
/** Other equipment that draws power; a generator or solar system gives it. */
const LIST_OF_OTHER: Readonly<Partial<Record<What, List>>> = {
  'vehicle-charger': 'vehicles',
  pool: 'others',
  'well-pump': 'others',
  'sump-pump': 'others',
  other: 'others',
}
const OTHER_MOTORS: readonly What[] = ['well-pump', 'sump-pump']

export interface LoadOfHome {
  load: LoadInputs
  serviceAmps: number | null
  /** What the record does not say, in the words of the forms. */
  missing: string[]
}

export const CIRCUITS_MISSING = 'Circuits of the panel'

/** The load as far as the record of a home tells it: floor area, and every circuit by what it serves. */
export function loadOfHome(home: Home): LoadOfHome {
  const circuits = inUse(home, 'circuit')
  const others = inUse(home, 'other')
  const services = inUse(home, 'service')
  const lists: Record<List, NameplateLoad[]> = {
    cooking: [],
    dryers: [],
    appliances: [],
    vehicles: [],
    others: [],
    airConditioners: [],
    heatPumps: [],
    electricHeat: [],
  }
  const missing: string[] = []
  if (circuits.length === 0) missing.push(CIRCUITS_MISSING)
  const panelFeeders = new Set(inUse(home, 'panel').map((panel) => panel.parentId))
  const onCircuit = new Map<string, EquipmentOf<'other'>[]>()
  for (const other of others) {
    if (!other.parentId) continue
    onCircuit.set(other.parentId, [...(onCircuit.get(other.parentId) ?? []), other])
  }
  const counted = new Set<string>()
  for (const circuit of circuits) {
    const { serves, poles, loadVA } = circuit.details
    if (!serves) {
      missing.push(`${FIELDS.serves.label}: ${circuit.label}`)
      continue
    }
    const list = LIST_OF[serves]
    // The loads behind a recorded sub-panel are its circuits.
    if (!list || panelFeeders.has(circuit.id)) continue
    const equipment = onCircuit.get(circuit.id) ?? []
    for (const each of equipment) counted.add(each.id)
    lists[list].push({
      name: circuit.label,
      va: loadVA ?? loadOf(equipment),
      ...(poles === 1 && { volts: 120 }),
      ...(MOTORS.includes(serves) && { motor: true }),
    })
  }
  for (const other of others) {
    const { what, loadVA } = other.details
    const list = what && LIST_OF_OTHER[what]
    if (!list || counted.has(other.id)) continue
    lists[list].push({
      name: other.label,
      va: loadVA ?? null,
      ...(OTHER_MOTORS.includes(what) && { motor: true }),
    })
  }
  const countOf = (serves: Serves) => circuits.filter(({ details }) => details.serves === serves).length
  return {
    load: {
      ...NO_LOAD,
      ...lists,
      areaSqFt: home.property.areaSqFt,
      smallApplianceCircuits: countOf('small-appliance'),
      laundryCircuits: countOf('laundry'),
    },
    serviceAmps: services.length === 1 ? (services[0]!.details.ratingAmps ?? null) : null,
    missing,
  }
}

/** Null while any of them is unknown. */
function loadOf(equipment: readonly EquipmentOf<'other'>[]): number | null {
  if (equipment.length === 0) return null
  return equipment.reduce<number | null>((sum, { details }) => {
    if (sum === null || details.loadVA == null) return null
    return sum + details.loadVA
  }, 0)
}
