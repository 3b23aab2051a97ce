import type { RuleContext } from '../editions.ts'
import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { missingOf, onClocks, shortfall, sound, tidy, undetermined } from '../judging.ts'
import { clocksOf, type Requirement } from '../requirement.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Figure, Verdict } from '../verdict.ts'
import type { ElectrodeKind } from './electrode-conductor-table.ts'

type Details = DetailsOf<'electrode'>
type MeasuredField = 'lengthFeet' | 'diameterInches' | 'plateSqFt' | 'buriedInches' | 'earthContactFeet'

interface Least {
  field: MeasuredField
  least: number
  article: string
  /** Holds only for electrodes of which this is true. */
  only?: (details: Details) => boolean
}

/** Least measures of each kind of electrode. NFPA 70 Article 250 Part III; rows marked `from memory` were not seen. */
export const LEAST_MEASURES: Readonly<Record<ElectrodeKind, readonly Least[]>> = {
  rod: [
    { field: 'lengthFeet', least: 8, article: '250.52(A)(5)' },
    {
      field: 'diameterInches',
      least: 0.625,
      article: '250.52(A)(5)(b)',
      only: (rod) => rod.listed === false,
    },
    // A listed rod may be thinner: from memory.
    { field: 'diameterInches', least: 0.5, article: '250.52(A)(5)(b)', only: (rod) => rod.listed === true },
  ],
  pipe: [
    { field: 'lengthFeet', least: 8, article: '250.52(A)(5)' },
    { field: 'diameterInches', least: 0.75, article: '250.52(A)(5)(a)' },
  ],
  // From memory.
  plate: [
    { field: 'plateSqFt', least: 2, article: '250.52(A)(7)' },
    { field: 'buriedInches', least: 30, article: '250.53(A)(5)' },
  ],
  // From memory.
  'concrete-encased': [{ field: 'lengthFeet', least: 20, article: '250.52(A)(3)' }],
  'water-pipe': [{ field: 'earthContactFeet', least: 10, article: '250.52(A)(1)' }],
  // From memory.
  ring: [
    { field: 'lengthFeet', least: 20, article: '250.52(A)(4)' },
    { field: 'buriedInches', least: 30, article: '250.53(F)' },
  ],
}

/** The measures of rods are older than the editions looked up; 1978 is the oldest we vouch for, from memory. */
export const ELECTRODE_MEASURES: Requirement = {
  keys: ['grounding.electrode'],
  rows: [
    { since: '1978', required: true, article: '250-83', source: 'from memory' },
    { since: '1999', required: true, article: '250.52', source: 'NFPA 70 250.52(A)' },
  ],
  before: 'unknown',
}

const HOMEOWNER = {
  sound: 'This earth electrode is of a kind and size that does its work.',
  short:
    'This earth electrode is smaller than it should be, so it steadies your electrical system less well.',
}

export type ElectrodeInputs = Pick<Details, 'kind' | 'listed' | MeasuredField>

export function judgeElectrode(inputs: ElectrodeInputs, context: RuleContext): Verdict {
  const basis = onClocks(
    { rule: 'grounding.electrode', inputs: { ...inputs } },
    clocksOf(ELECTRODE_MEASURES, context),
  )
  if (!inputs.kind) return undetermined(basis, [EQUIPMENT_FIELDS.electrode.kind.label])
  const wanted = LEAST_MEASURES[inputs.kind].filter((each) => !each.only || each.only(inputs))
  const known = wanted.filter((each) => inputs[each.field] != null)
  const short = known.filter((each) => inputs[each.field]! < each.least)
  const full = {
    ...basis,
    references: [...basis.references, ...wanted.map((each) => ({ code: 'NFPA 70', article: each.article }))],
    figures: known.flatMap((each) => figuresOf(inputs, each)),
  }
  const measures = (rows: readonly Least[]) => rows.map((each) => phrase(inputs, each)).join(', ')
  if (short.length > 0) {
    return shortfall(full, context, {
      technician: `${titleOf(inputs.kind)}: ${measures(short)}`,
      homeowner: HOMEOWNER.short,
    })
  }
  const missing = missingOf(
    EQUIPMENT_FIELDS.electrode,
    inputs,
    wanted.map((each) => each.field),
  )
  if (inputs.kind === 'rod' && inputs.listed == null) missing.push(EQUIPMENT_FIELDS.electrode.listed.label)
  if (missing.length > 0) return undetermined(full, missing)
  return sound(full, {
    technician: `${titleOf(inputs.kind)}: ${measures(wanted)}.`,
    homeowner: HOMEOWNER.sound,
  })
}

function titleOf(kind: ElectrodeKind): string {
  return EQUIPMENT_FIELDS.electrode.kind.options[kind]
}

const UNIT_WORDS = { ft: 'ft', in: 'in', sqft: 'ft²' } as const

function phrase(inputs: ElectrodeInputs, { field, least }: Least): string {
  const { label, unit } = EQUIPMENT_FIELDS.electrode[field]
  const words = UNIT_WORDS[unit as keyof typeof UNIT_WORDS]
  return `${label.toLowerCase()} ${tidy(inputs[field]!)} ${words}, ${tidy(least)} ${words} wanted`
}

function figuresOf(inputs: ElectrodeInputs, { field, least }: Least): Figure[] {
  const { label, unit } = EQUIPMENT_FIELDS.electrode[field]
  return [
    { label, value: inputs[field]!, unit },
    { label: `${label}, at least`, value: least, unit },
  ]
}

export const electrode: EquipmentRule<'electrode', ElectrodeInputs> = {
  id: 'grounding.electrode',
  title: 'Electrode: length, diameter, contact with the earth',
  kind: 'electrode',
  inputs: ({ details }) => {
    const { kind, listed, lengthFeet, diameterInches, plateSqFt, buriedInches, earthContactFeet } = details
    return { kind, listed, lengthFeet, diameterInches, plateSqFt, buriedInches, earthContactFeet }
  },
  judge: judgeElectrode,
}
