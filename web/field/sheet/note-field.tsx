import type { Line } from '../../../trade/inspection/lines.ts'
import type { Answer } from '../../../trade/inspection/records.ts'
import type { Sheet } from '../offline/sheet.ts'
import { KeptText } from '../parts/kept-text.tsx'
import { answer } from './acts.ts'

/** A note at a line. */
export function NoteField({ sheet, line, given }: { sheet: Sheet; line: Line; given: Answer }) {
  return (
    <KeptText
      label="Note"
      stored={given.note ?? ''}
      onKeep={(note) => answer(sheet, line, { note })}
      maxLength={4000}
    />
  )
}
