import { TORQUE } from '../checklist/readings.ts'
import { sizeLabel } from '../conductors/sizes.ts'
import type { RuleContext } from '../editions.ts'
import type { ValuesOf } from '../fields.ts'
import { type Basis, finding, onClocks, sound, tidy, undetermined } from '../judging.ts'
import { clocksOf, type Requirement } from '../requirement.ts'
import type { ReadingRule } from '../rule.ts'
import type { Reference, Verdict } from '../verdict.ts'
import { fromLbfInches, TORQUE_UNITS, type TorqueUnit, toLbfInches } from './convert.ts'
import { defaultTorque } from './defaults.ts'

const RULE = 'torque.reading-against-value'

/** Tightening to the given value is asked for in words since 2017. */
const REQUIREMENT: Requirement = {
  keys: [RULE],
  rows: [
    {
      since: '2017',
      required: true,
      article: '110.14(D)',
      row: 'calibrated tool where a value is given',
      source: 'trade journal on NFPA 70-2017',
    },
  ],
  before: 'no',
}
const DEFAULTS: Reference = {
  code: 'NFPA 70',
  article: 'Annex I',
  row: 'where the equipment gives no value (UL 486A-486B)',
}

/** How far a reading may stand from its value before it means something. Common practice, no source. */
const TOLERANCE = 0.1

/** Said wherever a reading is judged: a check of an old joint is not its installation. */
export const RECHECK_CAUTION =
  'Torque read later is no reliable test of how a joint was tightened; do not retighten what was set to its label.'

export type TorqueReadings = ValuesOf<typeof TORQUE>

/** The value that governs, in lbf·in, and where it stands; null with what is missing. */
export function governingTorque(
  readings: TorqueReadings,
): { lbfIn: number; from: 'label' | 'default' } | { missing: string[] } {
  const { labelTorque, torqueUnit, screw, socketInches, conductorSize } = readings
  if (labelTorque != null) {
    if (!torqueUnit) return { missing: [TORQUE.torqueUnit.label] }
    return { lbfIn: toLbfInches(labelTorque, torqueUnit), from: 'label' }
  }
  const asked = TORQUE.labelTorque.label
  if (!screw) return { missing: [asked, TORQUE.screw.label] }
  if (screw === 'socket') {
    if (!socketInches) return { missing: [asked, TORQUE.socketInches.label] }
    return fromTable(defaultTorque({ screw, socketInches }), asked)
  }
  if (!conductorSize) return { missing: [asked, TORQUE.conductorSize.label] }
  return fromTable(defaultTorque({ screw, size: conductorSize }), asked)
}

function fromTable(lbfIn: number | null, asked: string) {
  return lbfIn === null ? { missing: [asked] } : { lbfIn, from: 'default' as const }
}

/** A torque reading against the label, or against the published default for that screw and conductor. */
export function judgeTorque(readings: TorqueReadings, context: RuleContext): Verdict {
  const basis: Basis = onClocks({ rule: RULE, inputs: readings }, clocksOf(REQUIREMENT, context))
  if (readings.toolCheckedToLabel && readings.torque == null) {
    return sound(basis, {
      technician: 'Tightened with a torque tool to the label.',
      homeowner: 'The connections were tightened with a tool set to the maker’s value.',
    })
  }
  const { torque, torqueUnit } = readings
  const governing = governingTorque(readings)
  const missing = torque == null ? [TORQUE.torque.label] : []
  if (!torqueUnit) missing.push(TORQUE.torqueUnit.label)
  if ('missing' in governing) missing.push(...governing.missing.filter((word) => !missing.includes(word)))
  if (torque == null || !torqueUnit || 'missing' in governing) return undetermined(basis, missing)

  const read = toLbfInches(torque, torqueUnit)
  const shown: Basis = {
    ...basis,
    references: governing.from === 'default' ? [DEFAULTS, ...basis.references] : basis.references,
    figures: [
      { label: 'Torque read', value: read, unit: 'lbfIn' },
      {
        label: governing.from === 'label' ? 'Torque on the label' : 'Published default',
        value: governing.lbfIn,
        unit: 'lbfIn',
      },
    ],
  }
  return compared(shown, readings, { torque, torqueUnit, read }, governing)
}

function compared(
  basis: Basis,
  { screw, conductorSize }: TorqueReadings,
  { torque, torqueUnit, read }: { torque: number; torqueUnit: TorqueUnit; read: number },
  { lbfIn, from }: { lbfIn: number; from: 'label' | 'default' },
): Verdict {
  const unit = TORQUE_UNITS[torqueUnit]
  const target = tidy(fromLbfInches(lbfIn, torqueUnit))
  const source =
    from === 'label'
      ? 'label'
      : `default for ${TORQUE.screw.options[screw!].toLowerCase()}${conductorSize && screw !== 'socket' ? `, ${sizeLabel(conductorSize)}` : ''}`
  const technician = `${tidy(torque)} ${unit} read, ${target} ${unit} by ${source}`
  if (read < lbfIn * (1 - TOLERANCE)) {
    return finding(basis, 'repair', {
      technician: `${technician}: loose. ${RECHECK_CAUTION}`,
      homeowner:
        'A connection was less tight than it should be. A loose one can run hot; it is to be set right.',
    })
  }
  if (read > lbfIn * (1 + TOLERANCE)) {
    return finding(basis, 'investigate', {
      technician: `${technician}: over. Look for a damaged conductor or lug. ${RECHECK_CAUTION}`,
      homeowner: 'A connection was tightened harder than its maker asks; we check that nothing was damaged.',
    })
  }
  return sound(basis, {
    technician: `${technician}.`,
    homeowner: 'The connection is as tight as it should be.',
  })
}

export const torqueReading: ReadingRule<TorqueReadings, TorqueReadings> = {
  id: RULE,
  title: 'Torque against its value',
  inputs: (readings) => ({
    toolCheckedToLabel: readings.toolCheckedToLabel,
    torque: readings.torque,
    torqueUnit: readings.torqueUnit,
    labelTorque: readings.labelTorque,
    screw: readings.screw,
    socketInches: readings.socketInches,
    conductorMaterial: readings.conductorMaterial,
    conductorSize: readings.conductorSize,
  }),
  judge: judgeTorque,
}
