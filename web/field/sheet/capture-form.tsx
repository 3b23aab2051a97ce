import { useState } from 'react'
import { isEquipmentSubject } from '../../../trade/checklist/item.ts'
import { date, type Field, type Fields } from '../../../trade/fields.ts'
import type { EquipmentView } from '../../../server/inspections/home-schema.ts'
import { EQUIPMENT_FIELDS, type EquipmentKind } from '../../../trade/equipment.ts'
import type { Line } from '../../../trade/inspection/lines.ts'
import { repeatableDetails } from '../../../trade/inspection/repeat.ts'
import { FieldInput } from '../parts/field-input.tsx'
import { act } from './acts.ts'
import type { Inspection } from './inspection-of.ts'
import { LabelDate } from './label-date.tsx'
import { Repeat } from './repeat.tsx'
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
    act(
      sheet,
      'change-equipment',
      { equipmentId: piece.id, changes: changes as never },
      piece.version || null,
    )
  const shown = all ? captures : captures.slice(0, FIRST)
  const last = previousOf(inspection, line, piece)
  return (
    <div className={css.form}>
      {last && (
        <Repeat
          values={last.values}
          fields={fields}
          from={last.label}
          onRepeat={() => change({ details: last.values })}
        />
      )}
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
            line={line}
            sheet={sheet}
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

/** The piece of the same kind before this one in the walk, when it has something that this one lacks. */
function previousOf({ sheet, lines }: Inspection, line: Line, piece: EquipmentView) {
  const siblings = lines.filter((each) => each.item.id === line.item.id && each.subjectKind === 'equipment')
  const before = siblings.slice(
    0,
    siblings.findIndex((each) => each.key === line.key),
  )
  for (const { subjectId } of before.toReversed()) {
    const other = sheet.equipment.find((each) => each.id === subjectId)
    const values = other ? repeatableDetails(piece.kind as EquipmentKind, other.details, piece.details) : {}
    if (other && Object.keys(values).length > 0) return { values, label: other.label }
  }
  return null
}
