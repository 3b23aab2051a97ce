import { type ConductorSize, sizeLabel, sizeRank } from '../conductors/sizes.ts'
import { day } from '../dates.ts'
import type { RuleContext } from '../editions.ts'
import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { type Metal, metalOf } from '../grounding/electrode-conductor-table.ts'
import { finding, missingOf, sound, tidy, undetermined } from '../judging.ts'
import type { Requirement } from '../requirement.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Figure, Reference, Verdict } from '../verdict.ts'
import { basisOf, type BondAsked, bondInputs, judgePresence } from './bond.ts'
import { type CircuitBondInputs, judgeCircuitBond, OTHER_PIPING_BOND } from './circuit-bond.ts'

/** Corrugated tube: 6 AWG copper at least; the aluminium of equal conductance, 4 AWG, is from memory. NFPA 54 7.12.2. */
export const TUBE_BOND_LEAST: Readonly<Record<Metal, ConductorSize>> = { copper: '6', aluminium: '4' }
/** NFPA 54 7.12.2. */
export const TUBE_BOND_LONGEST_FEET = 75

/**
 * The fuel-gas codes of 2009 brought the direct bond. A home's fuel-gas edition is not on its record, so the
 * electrical edition stands in for it: wiring under the 2008 edition may be older or newer than 2009.
 */
export const CORRUGATED_TUBE_BOND: Requirement = {
  keys: ['bonding.gas-pipe', 'bonding.gas-pipe/corrugated'],
  code: 'NFPA 54',
  rows: [
    {
      since: '2008',
      effectiveOn: day('2009-01-01'),
      required: true,
      article: '7.12.2',
      row: 'corrugated stainless tube',
      source: 'NFPA 54 7.12.2; fuel-gas codes of 2009',
    },
  ],
  before: 'no',
}
const MAKERS_INSTRUCTIONS: Reference = { code: "Tube maker's instructions", row: 'direct bond of the tube' }

export interface GasBondInputs
  extends CircuitBondInputs, Pick<DetailsOf<'bond'>, 'gasPipe' | 'clampedOn' | 'lengthFeet'> {}

const gas: BondAsked = {
  rule: 'bonding.gas-pipe',
  of: 'gas-pipe',
  requirement: CORRUGATED_TUBE_BOND,
  name: 'Gas piping bond',
  homeowner: {
    sound: 'Your gas piping is tied to the electrical ground, as it should be.',
    absent:
      'Your thin corrugated gas tube is not tied to the electrical ground. A lightning strike nearby could damage it, so a bond should be added.',
    poor: 'The tie between your gas piping and the electrical ground should be made better.',
  },
}
const rigidGas: BondAsked = {
  ...gas,
  requirement: { ...OTHER_PIPING_BOND, keys: ['bonding.gas-pipe', 'bonding.gas-pipe/rigid'] },
}

/** Corrugated tube has its own rule, whatever the edition: its maker asks for the bond. Rigid pipe follows its circuit. */
export function judgeGasBond(inputs: GasBondInputs, context: RuleContext): Verdict {
  const basis = {
    ...basisOf(gas, inputs, context),
    inputs: { ...inputs },
    figures: [] as Figure[],
  }
  if (inputs.of !== 'gas-pipe') return judgePresence(gas, inputs, basis, context)!
  if (!inputs.gasPipe) return undetermined(basis, [EQUIPMENT_FIELDS.bond.gasPipe.label])
  if (inputs.gasPipe === 'rigid') return judgeCircuitBond(rigidGas, inputs, context)
  basis.references.push(MAKERS_INSTRUCTIONS)
  if (inputs.present == null) return undetermined(basis, [EQUIPMENT_FIELDS.bond.present.label])
  const faults = inputs.present ? faultsOf(inputs) : ['absent on corrugated tube']
  if (inputs.lengthFeet != null) {
    basis.figures.push(
      { label: 'Bond length', value: inputs.lengthFeet, unit: 'ft' },
      { label: 'Longest bond', value: TUBE_BOND_LONGEST_FEET, unit: 'ft' },
    )
  }
  if (faults.length > 0) {
    return finding(basis, 'repair', {
      technician: `Gas piping bond: ${faults.join('; ')}.`,
      homeowner: inputs.present ? gas.homeowner.poor : gas.homeowner.absent,
    })
  }
  const missing = missingOf(EQUIPMENT_FIELDS.bond, inputs, [
    'conductorMaterial',
    'conductorSize',
    'lengthFeet',
    'clampedOn',
    'clamp',
    'reachable',
  ])
  if (missing.length > 0) return undetermined(basis, missing)
  return sound(basis, {
    technician: `Gas piping bond ${sizeLabel(inputs.conductorSize!)}, ${tidy(inputs.lengthFeet!)} ft, on rigid pipe.`,
    homeowner: gas.homeowner.sound,
  })
}

function faultsOf(inputs: GasBondInputs): string[] {
  const { conductorMaterial, conductorSize, lengthFeet, clampedOn, clamp, reachable } = inputs
  const least = conductorMaterial && TUBE_BOND_LEAST[metalOf(conductorMaterial)]
  return [
    conductorSize &&
      least &&
      sizeRank(conductorSize) < sizeRank(least) &&
      `${sizeLabel(conductorSize)}, ${sizeLabel(least)} wanted`,
    lengthFeet != null &&
      lengthFeet > TUBE_BOND_LONGEST_FEET &&
      `${tidy(lengthFeet)} ft long, ${TUBE_BOND_LONGEST_FEET} ft at most`,
    clampedOn === 'tube' && 'clamped on the corrugated tube itself; it belongs on rigid pipe or a fitting',
    clamp && clamp !== 'sound' && `clamp ${clamp}`,
    reachable === false && 'connection cannot be reached',
  ].filter((fault): fault is string => Boolean(fault))
}

export const gasBond: EquipmentRule<'bond', GasBondInputs> = {
  id: gas.rule,
  title: 'Gas piping bond',
  kind: 'bond',
  inputs: ({ details }) => ({
    ...bondInputs(details),
    largestCircuitAmps: details.largestCircuitAmps,
    gasPipe: details.gasPipe,
    clampedOn: details.clampedOn,
    lengthFeet: details.lengthFeet,
  }),
  judge: judgeGasBond,
}
