import type { FieldOperationInput } from '../../../server/field/operation-schema.ts'
import { findItem } from '../../../trade/checklist/checklist.ts'
import { NOT_REACHED_REASONS, RESULTS } from '../../../trade/checklist/item.ts'
import { EQUIPMENT_FIELDS, type EquipmentKind } from '../../../trade/equipment.ts'
import type { Field, Fields } from '../../../trade/fields.ts'
import { REVIEW_OUTCOMES } from '../../../trade/inspection/finding-states.ts'
import { SPACE_KINDS } from '../../../trade/property.ts'
import { SEVERITIES } from '../../../trade/verdict.ts'

/** One value of an operation that a person can put right before it is sent again. */
export interface Mend {
  /** Where it stands in the payload. */
  path: readonly string[]
  field: Field
  value: unknown
}

type Values = Readonly<Record<string, unknown>>

const text = (label: string, maxLength: number): Field => ({ type: 'text', label, maxLength })
const day = (label: string): Field => ({ type: 'date', label })
const yesNo = (label: string): Field => ({ type: 'yes-no', label })

const PLACE: Fields = {
  label: text('Name', 120),
  manufacturedOn: day('Made on'),
  installedOn: day('Installed on'),
}
const SPACE: Fields = {
  kind: { type: 'choice', label: 'Kind of room', options: SPACE_KINDS },
  name: text('Name', 80),
  areaSqFt: { type: 'number', label: 'Area', unit: 'sqft', min: 0, max: 100_000, step: 1 },
  hasSink: yesNo('Has a sink'),
  hasTubOrShower: yesNo('Has a tub or shower'),
  hasFuelBurner: yesNo('Has something that burns fuel'),
  sleepingArea: text('Sleeping area', 80),
}
const FINDING: Fields = {
  severity: {
    type: 'choice',
    label: 'Severity',
    options: Object.fromEntries(SEVERITIES.map((each) => [each, capital(each)])),
  },
  text: text('What was found', 4000),
  correction: text('What puts it right', 4000),
  makeSafe: text('Made safe by', 2000),
  loweredReason: text('Why the severity is lower than proposed', 1000),
}

/** What of an operation can be put right, with the words of the sheet. `kindOf`: of equipment that is on record. */
export function mendable(
  operation: FieldOperationInput,
  kindOf: (equipmentId: string) => EquipmentKind | null,
): Mend[] {
  switch (operation.command) {
    case 'answer-item': {
      const { payload } = operation
      const reason: Fields =
        payload.result === 'not-reached'
          ? { notReachedReason: { type: 'choice', label: 'Why not reached', options: NOT_REACHED_REASONS } }
          : {}
      return [
        ...at([], payload, {
          result: { type: 'choice', label: 'Result', options: RESULTS },
          ...reason,
          note: text('Note', 4000),
        }),
        ...named(['readings'], payload.readings ?? {}, findItem(payload.itemId)?.readings ?? {}),
      ]
    }
    case 'save-finding':
      return at([], operation.payload, FINDING)
    case 'review-carried':
      return at([], operation.payload, {
        outcome: { type: 'choice', label: 'What became of it', options: REVIEW_OUTCOMES },
        note: text('Note', 2000),
      })
    case 'note-inspection':
      return at([], operation.payload, { note: text('Note', 8000) })
    case 'add-space':
      return named(['space'], operation.payload.space, SPACE)
    case 'change-space':
      return named(['changes'], operation.payload.changes, SPACE)
    case 'add-equipment': {
      const { equipment } = operation.payload
      return thing(['equipment'], equipment, equipment.kind)
    }
    case 'change-equipment':
      return thing(['changes'], operation.payload.changes, kindOf(operation.payload.equipmentId))
    case 'retire-equipment':
      return at([], operation.payload, { retiredOn: day('Out of use since'), reason: text('Why', 500) })
    case 'describe-photo':
      return at([], operation.payload, { caption: text('Words beside the picture', 500) })
    default:
      return []
  }
}

/** The operation with one value put right; null takes it away, as everywhere on the sheet. */
export function mended(
  operation: FieldOperationInput,
  path: readonly string[],
  value: unknown,
): FieldOperationInput {
  return { ...operation, payload: put(operation.payload, path, value) } as FieldOperationInput
}

function put(values: Values, [name, ...rest]: readonly string[], value: unknown): Values {
  if (name === undefined) return values
  if (rest.length > 0) return { ...values, [name]: put((values[name] ?? {}) as Values, rest, value) }
  return { ...values, [name]: typeof values[name] === 'string' && value === null ? '' : value }
}

/** All of the fields, whether something was said or not. */
const at = (path: readonly string[], values: Values, fields: Fields): Mend[] =>
  Object.entries(fields).map(([name, field]) => ({
    path: [...path, name],
    field,
    value: values[name] ?? null,
  }))

/** Only those of which something was said; what no field describes is shown as text. */
const named = (path: readonly string[], values: Values, fields: Fields): Mend[] =>
  Object.entries(values).flatMap(([name, value]) => {
    const field = fields[name]
    return field ? [{ path: [...path, name], field, value }] : []
  })

function thing(path: readonly string[], values: Values, kind: EquipmentKind | null): Mend[] {
  const details = (values['details'] ?? {}) as Values
  return [
    ...named(path, values, PLACE),
    ...named([...path, 'details'], details, kind ? (EQUIPMENT_FIELDS[kind] as Fields) : {}),
  ]
}

function capital(word: string): string {
  return word.charAt(0).toUpperCase() + word.slice(1)
}
