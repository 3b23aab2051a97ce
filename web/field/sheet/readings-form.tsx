import { useState } from 'react'
import type { Line } from '../../../trade/inspection/lines.ts'
import type { Answer } from '../../../trade/inspection/records.ts'
import { repeatableReadings } from '../../../trade/inspection/repeat.ts'
import { FieldInput } from '../parts/field-input.tsx'
import { answer } from './acts.ts'
import css from './capture-form.module.css'
import type { Inspection } from './inspection-of.ts'
import { Repeat } from './repeat.tsx'
import { VoltageAlong } from './voltage-along.tsx'

/** Asked first; the rest unfolds, and what was filled in stays in sight. */
const FIRST = 8

/** The readings of this item that were taken last, and where: neighbours often read alike. */
function lastReadings({ sheet, lines }: Inspection, { item, subjectId, key }: Line) {
  const taken = (sheet.inspection?.answers ?? []).filter(
    (each) => each.itemId === item.id && each.subjectId !== subjectId,
  )
  for (const each of taken.toReversed()) {
    const values = repeatableReadings(item, each.readings)
    const from = lines.find((line) => line.item.id === item.id && line.subjectId === each.subjectId)
    if (from && from.key !== key && Object.keys(values).length > 0) return { values, name: from.name }
  }
  return null
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
  const [all, setAll] = useState(false)
  const { sheet } = inspection
  const { dropAlong, ...plain } = line.item.readings
  const fields = Object.entries(plain)
  const stored = given?.readings ?? {}
  const shown = fields.filter(([name], i) => all || i < FIRST || stored[name] != null)
  const last = fields.length > 0 && Object.keys(stored).length === 0 ? lastReadings(inspection, line) : null
  const put = (name: string) => (value: unknown) => answer(sheet, line, { reading: { name, value } })
  return (
    <>
      {fields.length > 0 && (
        <div className={css.form}>
          {last && (
            <Repeat
              values={last.values}
              fields={line.item.readings}
              from={last.name}
              onRepeat={() => void answer(sheet, line, { readings: last.values })}
            />
          )}
          {shown.map(([name, field]) => (
            <FieldInput key={name} field={field} value={stored[name]} onKeep={put(name)} />
          ))}
          {fields.length > FIRST && (
            <button
              type="button"
              className="press"
              data-look="quiet"
              aria-expanded={all}
              onClick={() => setAll(!all)}
            >
              {all ? 'Fewer readings' : 'More readings'}
            </button>
          )}
        </div>
      )}
      {dropAlong && (
        <VoltageAlong
          key={line.key}
          text={String(stored['dropAlong'] ?? '')}
          onKeep={put('dropAlong')}
          onNote={(words) => {
            const note = [given?.note?.trim(), words].filter(Boolean).join('\n')
            void answer(sheet, line, { note })
          }}
        />
      )}
    </>
  )
}
