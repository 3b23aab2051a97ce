import {
  type ConductorMaterial,
  type ConductorSize,
  CONDUCTOR_MATERIALS,
  sizeLabel,
  sizeRank,
} from '../conductors/sizes.ts'
import type { RuleContext } from '../editions.ts'
import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { type Home, inUse } from '../home.ts'
import { missingOf, onClocks, shortfall, sound, undetermined } from '../judging.ts'
import { clocksOf, type Requirement } from '../requirement.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'
import { electrodeConductorFor, type ElectrodeKind } from './electrode-conductor-table.ts'

export const ELECTRODE_CONDUCTOR_SIZE: Requirement = {
  keys: ['grounding.electrode-conductor'],
  rows: [
    { since: '1978', required: true, article: 'Table 250-94', source: 'from memory' },
    { since: '1999', required: true, article: 'Table 250.66', source: 'NFPA 70 Table 250.66' },
  ],
  before: 'unknown',
}

/** The service's own ungrounded conductors, on which all sizes of grounding and bonding conductors hang. */
export interface ServiceConductors {
  serviceMaterial?: ConductorMaterial
  serviceSize?: ConductorSize
}

const LEAST_DEMANDING_FIRST: readonly ConductorMaterial[] = ['copper-clad', 'aluminium', 'copper']

/** With several services recorded, the one with the largest conductors; of one size copper, which carries more. */
export function serviceConductors(home: Home): ServiceConductors {
  const demand = ({ conductorMaterial }: DetailsOf<'service'>) =>
    conductorMaterial ? LEAST_DEMANDING_FIRST.indexOf(conductorMaterial) : -1
  const known = inUse(home, 'service')
    .map((each) => each.details)
    .toSorted((a, b) => rankOf(a.conductorSize) - rankOf(b.conductorSize) || demand(a) - demand(b))
    .at(-1)
  return { serviceMaterial: known?.conductorMaterial, serviceSize: known?.conductorSize }
}

function rankOf(size: ConductorSize | undefined): number {
  return size ? sizeRank(size) : -1
}

export interface ElectrodeConductorInputs extends ServiceConductors {
  material?: ConductorMaterial
  size?: ConductorSize
  /** Kind of electrode, where the conductor is known to end at it; null where it is known to go on. */
  soleTo?: ElectrodeKind | null
}

const HOMEOWNER = {
  sound: 'The wire to the earth electrode is thick enough.',
  short: 'The wire that ties your electrical system to the earth is thinner than it should be.',
}

/** Size against the service conductors; where the conductor's end is unknown, sound only if large enough for any end. */
export function judgeElectrodeConductor(
  rule: string,
  inputs: ElectrodeConductorInputs,
  context: RuleContext,
): Verdict {
  const basis = onClocks({ rule, inputs: { ...inputs } }, clocksOf(ELECTRODE_CONDUCTOR_SIZE, context))
  const { serviceMaterial, serviceSize, material, size, soleTo } = inputs
  if (!serviceMaterial || !serviceSize || !material || !size) {
    return undetermined(basis, [
      ...missingOf(
        EQUIPMENT_FIELDS.service,
        { conductorMaterial: serviceMaterial, conductorSize: serviceSize },
        ['conductorMaterial', 'conductorSize'],
      ),
      ...missingOf(
        EQUIPMENT_FIELDS.service,
        { electrodeConductorMaterial: material, electrodeConductorSize: size },
        ['electrodeConductorMaterial', 'electrodeConductorSize'],
      ),
    ])
  }
  const service = { material: serviceMaterial, size: serviceSize }
  const wanted = electrodeConductorFor(service, material, soleTo ?? null)
  const deciding = { code: 'NFPA 70', article: wanted.article, row: wanted.row }
  const full = { ...basis, references: [...basis.references, deciding] }
  const what = `${sizeLabel(size)} ${CONDUCTOR_MATERIALS[material].toLowerCase()} electrode conductor`
  const against = `${sizeLabel(wanted.size)} wanted for ${sizeLabel(serviceSize)} ${CONDUCTOR_MATERIALS[serviceMaterial].toLowerCase()} service conductors`
  if (sizeRank(size) >= sizeRank(wanted.size)) {
    return sound(full, { technician: `${what}; ${against}.`, homeowner: HOMEOWNER.sound })
  }
  const leastAnywhere = electrodeConductorFor(service, material, 'rod')
  if (soleTo === undefined && sizeRank(size) >= sizeRank(leastAnywhere.size)) {
    return undetermined(full, [
      EQUIPMENT_FIELDS.electrode.kind.label,
      EQUIPMENT_FIELDS.electrode.soleConnection.label,
    ])
  }
  return shortfall(full, context, { technician: `${what}, ${against}`, homeowner: HOMEOWNER.short })
}

const ROD_LIKE: readonly ElectrodeKind[] = ['rod', 'pipe', 'plate']

/** Kind of electrode at which a conductor ends; null where it goes on to another kind, undefined where unclear. */
function endAt(electrode: DetailsOf<'electrode'>, home: Home): ElectrodeKind | null | undefined {
  if (!electrode.kind) return undefined
  if (electrode.soleConnection) return electrode.kind
  const all = inUse(home, 'electrode')
  const onlyRods = all.every(({ details }) => details.kind && ROD_LIKE.includes(details.kind))
  if (onlyRods && all.length > 1) return electrode.kind
  return electrode.soleConnection === false ? null : undefined
}

/** Where the conductor recorded at the service ends: the most demanding electrode that has none of its own. */
function endOfServiceConductor(home: Home): ElectrodeKind | null | undefined {
  const ends = inUse(home, 'electrode')
    .filter(({ details }) => !details.conductorSize)
    .map(({ details }) => endAt(details, home))
  if (ends.includes(null)) return null
  if (ends.includes(undefined)) return undefined
  return DEMANDING_FIRST.find((kind) => ends.includes(kind))
}
const DEMANDING_FIRST: readonly ElectrodeKind[] = [
  'water-pipe',
  'ring',
  'concrete-encased',
  'rod',
  'pipe',
  'plate',
]

const atService = 'grounding.electrode-conductor'
export const electrodeConductor: EquipmentRule<'service', ElectrodeConductorInputs> = {
  id: atService,
  title: 'Grounding electrode conductor against the service conductors',
  kind: 'service',
  watches: ['electrode'],
  inputs: (service, home) => ({
    serviceMaterial: service.details.conductorMaterial,
    serviceSize: service.details.conductorSize,
    material: service.details.electrodeConductorMaterial,
    size: service.details.electrodeConductorSize,
    soleTo: endOfServiceConductor(home),
  }),
  judge: (inputs, context) => judgeElectrodeConductor(atService, inputs, context),
}

const atElectrode = 'grounding.electrode-conductor-at-electrode'
export const electrodeConductorAtElectrode: EquipmentRule<'electrode', ElectrodeConductorInputs> = {
  id: atElectrode,
  title: 'Conductor to this electrode',
  kind: 'electrode',
  watches: ['electrode', 'service'],
  inputs: ({ details }, home) => ({
    ...serviceConductors(home),
    material: details.conductorMaterial,
    size: details.conductorSize,
    soleTo: endAt(details, home),
  }),
  judge: (inputs, context) => judgeElectrodeConductor(atElectrode, inputs, context),
}
