import { parseLabel } from '../../../trade/alarms/parse-label.ts'
import type { Senses } from '../../../trade/alarms/life-figures.ts'
import type { Day } from '../../../trade/dates.ts'
import type { Field } from '../../../trade/fields.ts'
import type { EquipmentView } from '../../../server/inspections/schema.ts'
import { formatDay } from '../../shared/format.ts'
import { FieldInput } from '../parts/field-input.tsx'

/** The date exactly as printed; what it can mean is said at once, and chosen by whoever sees the label. */
export function LabelDate({
  field,
  piece,
  today,
  isUs,
  onKeep,
  onDay,
}: {
  field: Field
  piece: EquipmentView
  today: Day
  isUs: boolean
  onKeep: (text: unknown) => void
  onDay: (day: Day) => void
}) {
  const text = String(piece.details['labelText'] ?? '')
  const parsed = text
    ? parseLabel(text, { today, kindOfAlarm: (piece.details['senses'] as Senses | undefined) ?? null, isUs })
    : null
  const made = parsed?.readings.filter((each) => each.meaning !== 'replace-by') ?? []
  return (
    <div>
      <FieldInput field={field} value={text} onKeep={onKeep} />
      {parsed && <p className="soft">{parsed.why}</p>}
      {made.length > 0 && (
        <div className="row" role="group" aria-label="Made on">
          {made.map((each) => (
            <button
              key={`${each.layout}${each.day}`}
              type="button"
              className="press"
              aria-pressed={piece.manufacturedOn === each.day}
              onClick={() => onDay(each.day)}
            >
              Made {formatDay(each.day)}
            </button>
          ))}
        </div>
      )}
    </div>
  )
}
