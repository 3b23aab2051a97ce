import type { Field, Fields } from '../../../trade/fields.ts'
import { UNITS } from '../../../trade/units.ts'

/** The same as at the last one, in one tap; what would be taken over is said before. */
export function Repeat({
  values,
  fields,
  from,
  onRepeat,
}: {
  values: Readonly<Record<string, unknown>>
  fields: Fields
  /** Where they come from; empty for the home. */
  from: string
  onRepeat: () => void
}) {
  const words = Object.entries(values)
    .map(([name, value]) => valueWords(fields[name], value))
    .join(', ')
  return (
    <button type="button" className="press repeat" onClick={onRepeat}>
      <span>Same as {from || 'before'}</span>
      <span className="soft">{words}</span>
    </button>
  )
}

function valueWords(field: Field | undefined, value: unknown): string {
  switch (field?.type) {
    case 'choice':
      return field.options[String(value)] ?? String(value)
    case 'yes-no':
      return `${field.label}: ${value ? 'yes' : 'no'}`
    case 'number':
      return field.unit === 'count' ? `${field.label} ${value}` : `${value} ${UNITS[field.unit]}`
    default:
      return String(value)
  }
}
