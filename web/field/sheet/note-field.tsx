import { useState } from 'react'
import type { Line } from '../../../trade/inspection/lines.ts'
import type { Answer } from '../../../trade/inspection/records.ts'
import { TextArea } from '../../shared/ui/fields.tsx'
import type { Sheet } from '../offline/sheet.ts'
import { answer } from './acts.ts'

/** A note at a line, kept when the field is left. */
export function NoteField({ sheet, line, given }: { sheet: Sheet; line: Line; given: Answer }) {
  const [text, setText] = useState(given.note ?? '')
  return (
    <div onBlur={() => text !== (given.note ?? '') && void answer(sheet, line, { note: text })}>
      <TextArea label="Note" value={text} onChange={setText} rows={2} maxLength={4000} />
    </div>
  )
}
