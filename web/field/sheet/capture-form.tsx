import { useState } from 'react'
import { isEquipmentSubject } from '../../../trade/checklist/item.ts'
import { date, type Field, type Fields } from '../../../trade/fields.ts'
import { EQUIPMENT_FIELDS } from '../../../trade/equipment.ts'
import type { Line } from '../../../trade/inspection/lines.ts'
import { FieldInput } from '../parts/field-input.tsx'
import { act } from './acts.ts'
import type { Inspection } from './inspection-of.ts'
import { LabelDate } from './label-date.tsx'
import css from './capture-form.module.css'

/** Dates that every kind of equipment has, beside its details. */
const DATES: Readonly<Record<'manufacturedOn' | 'installedOn', Field>> = {
  manufacturedOn: date('Made on'),
  installedOn: date('Fitted on'),
}
/** Asked first; the rest unfolds. */
const FIRST = 8

/** What is read off a piece of equipment, kept field by field as it is typed. */
export function CaptureForm({ inspection, line }: { inspection: Inspection; line: Line }) {
  const { sheet } = inspection
  const [all, setAll] = useState(false)
  if (!isEquipmentSubject(line.item.subject)) return null
  const kind = line.item.subject.equipment
  const captures = (line.item.subject.captures ?? []) as readonly string[]
  const piece = sheet.equipment.find((each) => each.id === line.subjectId)
  if (!piece || captures.length === 0) return null
  const fields = EQUIPMENT_FIELDS[kind] as Fields
  const change = (changes: Record<string, unknown>) =>
    void act(
      sheet,
      'change-equipment',
      { equipmentId: piece.id, changes: changes as never },
      piece.version || null,
    )
  const shown = all ? captures : captures.slice(0, FIRST)
  return (
    <div className={css.form}>
      <FieldInput
        field={{ type: 'text', label: 'What you call it', maxLength: 120 }}
        value={piece.label}
        onKeep={(value) => change({ label: value ?? '' })}
      />
      {shown.map((name) => {
        if (name in DATES) {
          const column = name as keyof typeof DATES
          return (
            <FieldInput
              key={name}
              field={DATES[column]}
              value={piece[column]}
              onKeep={(value) => change({ [column]: value })}
            />
          )
        }
        const field = fields[name]
        if (!field) return null
        const put = (value: unknown) => change({ details: { [name]: value } })
        return name === 'labelText' ? (
          <LabelDate
            key={name}
            field={field}
            piece={piece}
            today={inspection.today}
            isUs={inspection.jurisdiction.isUs}
            onKeep={put}
            onDay={(day) => change({ manufacturedOn: day })}
          />
        ) : (
          <FieldInput key={name} field={field} value={piece.details[name]} onKeep={put} />
        )
      })}
      {captures.length > FIRST && (
        <button
          type="button"
          className="press"
          data-look="quiet"
          aria-expanded={all}
          onClick={() => setAll(!all)}
        >
          {all ? 'Fewer details' : `${captures.length - FIRST} more details`}
        </button>
      )}
    </div>
  )
}
