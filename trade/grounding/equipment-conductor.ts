import { type ConductorMaterial, type ConductorSize, sizeLabel, sizeRank } from '../conductors/sizes.ts'
import type { RuleContext } from '../editions.ts'
import { EQUIPMENT_FIELDS } from '../equipment.ts'
import { type Basis, missingOf, notApplicable, onClocks, shortfall, sound, undetermined } from '../judging.ts'
import { clocksOf, type Requirement } from '../requirement.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'
import {
  cappedByCircuit,
  enlargedInProportion,
  equipmentConductorFor,
  smallestConductorFor,
} from './equipment-conductor-table.ts'

/** Until 1969 the ground in NM cable could be thinner than the table; the 1971 edition is the first after that. */
export const EQUIPMENT_CONDUCTOR_SIZE: Requirement = {
  keys: ['grounding.equipment-conductor'],
  rows: [
    {
      since: '1971',
      required: true,
      article: 'Table 250-95',
      source: 'UL history paper, 2006; table from memory',
    },
    { since: '1999', required: true, article: 'Table 250.122', source: 'NFPA 70 Table 250.122' },
  ],
  before: 'unknown',
}
/** Enlarged conductors: from memory. */
export const ENLARGED_IN_PROPORTION: Requirement = {
  keys: ['grounding.equipment-conductor', 'grounding.equipment-conductor/enlarged'],
  rows: [{ since: '2002', required: true, article: '250.122(B)', source: 'from memory' }],
  before: 'no',
}

export interface EquipmentConductorInputs {
  deviceAmps?: number
  material?: ConductorMaterial
  size?: ConductorSize
  groundMaterial?: ConductorMaterial
  groundSize?: ConductorSize
  /** Nothing hangs on the breaker. */
  spare?: boolean
}

const HOMEOWNER = {
  sound: 'The wire that makes the breaker trip on a fault is thick enough.',
  short: 'The wire that makes the breaker trip on a fault is thinner than it should be.',
}

/** What to ask for, in the words of the form of the kind of equipment at hand. */
type Labels = Record<'deviceAmps' | 'groundMaterial' | 'groundSize', string>

interface Asked {
  rule: string
  labels: Labels
  /** Branch circuits: conductors larger than the device needs ask for more. A feeder's base size cannot be told. */
  proportional: boolean
}

export function judgeEquipmentConductor(
  asked: Asked,
  inputs: EquipmentConductorInputs,
  context: RuleContext,
): Verdict {
  const basis = onClocks(
    { rule: asked.rule, inputs: { ...inputs } },
    clocksOf(EQUIPMENT_CONDUCTOR_SIZE, context),
  )
  const { deviceAmps, material, size, groundMaterial, groundSize } = inputs
  if (inputs.spare) return notApplicable(basis, 'the breaker is a spare')
  if (deviceAmps == null || !groundMaterial || !groundSize) {
    const names = ['deviceAmps', 'groundMaterial', 'groundSize'] as const
    return undetermined(
      basis,
      names.filter((name) => inputs[name] == null).map((name) => asked.labels[name]),
    )
  }
  const table = equipmentConductorFor(deviceAmps, groundMaterial)
  if (!table) return notApplicable(basis, 'the device is larger than the table kept here')
  const wanted = cappedByCircuit(table.size, groundMaterial, { material, size })
  const row = wanted === table.size ? table.row : 'never larger than the circuit conductors'
  const full: Basis = {
    ...basis,
    references: [...basis.references, { code: 'NFPA 70', article: 'Table 250.122', row }],
    figures: [{ label: 'Overcurrent device', value: deviceAmps, unit: 'A' }],
  }
  const what = (least: ConductorSize) =>
    `Equipment grounding conductor ${sizeLabel(groundSize)}, ${sizeLabel(least)} wanted at ${deviceAmps} A`
  if (sizeRank(groundSize) < sizeRank(wanted)) {
    return shortfall(full, context, { technician: what(wanted), homeowner: HOMEOWNER.short })
  }
  const clocks = clocksOf(ENLARGED_IN_PROPORTION, context)
  const isAsked = clocks.whenBuilt !== 'no' || clocks.today !== 'no'
  if (asked.proportional && isAsked && (!material || !size)) {
    return undetermined(full, missingOf(EQUIPMENT_FIELDS.circuit, inputs, ['material', 'size']))
  }
  const enlarged = asked.proportional ? wantedWhenEnlarged(inputs, table.size) : null
  if (enlarged && sizeRank(groundSize) < sizeRank(enlarged.wanted)) {
    return shortfall({ ...full, ...onClocks(full, clocks) }, context, {
      technician: `${what(enlarged.wanted)} because the conductors are ${sizeLabel(size!)} where ${sizeLabel(enlarged.needed)} would do`,
      homeowner: HOMEOWNER.short,
    })
  }
  return sound(full, { technician: `${what(wanted)}.`, homeowner: HOMEOWNER.sound })
}

function wantedWhenEnlarged(
  { deviceAmps, material, size, groundMaterial }: EquipmentConductorInputs,
  tableSize: ConductorSize,
): { wanted: ConductorSize; needed: ConductorSize } | null {
  if (!material || !size) return null
  const needed = smallestConductorFor(deviceAmps!, material)
  const proportional = needed && enlargedInProportion(tableSize, needed, size)
  if (!proportional) return null
  return { wanted: cappedByCircuit(proportional, groundMaterial!, { material, size }), needed }
}

const forCircuit: Asked = {
  rule: 'grounding.circuit-equipment-conductor',
  labels: {
    deviceAmps: EQUIPMENT_FIELDS.circuit.ratingAmps.label,
    groundMaterial: EQUIPMENT_FIELDS.circuit.groundMaterial.label,
    groundSize: EQUIPMENT_FIELDS.circuit.groundSize.label,
  },
  proportional: true,
}
export const circuitEquipmentConductor: EquipmentRule<'circuit', EquipmentConductorInputs> = {
  id: forCircuit.rule,
  title: 'Equipment grounding conductor of the circuit',
  kind: 'circuit',
  inputs: ({ details }) => ({
    deviceAmps: details.ratingAmps,
    material: details.material,
    size: details.size,
    groundMaterial: details.groundMaterial,
    groundSize: details.groundSize,
    spare: details.serves === 'spare',
  }),
  judge: (inputs, context) => judgeEquipmentConductor(forCircuit, inputs, context),
}

const forFeeder: Asked = {
  rule: 'grounding.feeder-equipment-conductor',
  labels: {
    deviceAmps: EQUIPMENT_FIELDS.panel.feederBreakerAmps.label,
    groundMaterial: EQUIPMENT_FIELDS.panel.feederGroundMaterial.label,
    groundSize: EQUIPMENT_FIELDS.panel.feederGroundSize.label,
  },
  proportional: false,
}
export interface FeederConductorInputs extends EquipmentConductorInputs {
  role?: 'service' | 'sub-panel'
}
export const feederEquipmentConductor: EquipmentRule<'panel', FeederConductorInputs> = {
  id: forFeeder.rule,
  title: 'Equipment grounding conductor of the feeder',
  kind: 'panel',
  inputs: ({ details }) => ({
    role: details.role,
    deviceAmps: details.feederBreakerAmps,
    material: details.feederMaterial,
    size: details.feederSize,
    groundMaterial: details.feederGroundMaterial,
    groundSize: details.feederGroundSize,
  }),
  judge: (inputs, context) => {
    const basis = { rule: forFeeder.rule, inputs: { ...inputs }, references: [] }
    if (!inputs.role) return undetermined(basis, [EQUIPMENT_FIELDS.panel.role.label])
    if (inputs.role === 'service') return notApplicable(basis, 'a service panel has no feeder')
    return judgeEquipmentConductor(forFeeder, inputs, context)
  },
}
