import type { Line } from '../../../trade/inspection/lines.ts'
import type { Answer } from '../../../trade/inspection/records.ts'
import { FieldInput } from '../parts/field-input.tsx'
import { answer } from './acts.ts'
import css from './capture-form.module.css'
import type { Inspection } from './inspection-of.ts'

/** Readings of the last line of the same item that had any: most rooms read alike. */
function lastReadings(inspection: Inspection, line: Line): Readonly<Record<string, unknown>> | null {
  const before = inspection.lines.filter((each) => each.item.id === line.item.id && each.key !== line.key)
  const readings = before
    .map((each) => inspection.answerAt(each)?.readings ?? {})
    .filter((each) => Object.keys(each).length > 0)
  return readings.at(-1) ?? null
}

/** Readings that belong to the answer. The first one typed answers the line as sound; a finding is said by a person. */
export function ReadingsForm({
  inspection,
  line,
  given,
}: {
  inspection: Inspection
  line: Line
  given: Answer | undefined
}) {
  const fields = Object.entries(line.item.readings)
  if (fields.length === 0) return null
  const stored = given?.readings ?? {}
  const last = lastReadings(inspection, line)
  return (
    <div className={css.form}>
      {fields.map(([name, field]) => (
        <FieldInput
          key={name}
          field={field}
          value={stored[name]}
          onKeep={(value) => void answer(inspection.sheet, line, { reading: { name, value } })}
        />
      ))}
      {last && Object.keys(stored).length === 0 && (
        <button
          type="button"
          className="press"
          onClick={() => void answer(inspection.sheet, line, { readings: last })}
        >
          Same readings as before
        </button>
      )}
    </div>
  )
}
