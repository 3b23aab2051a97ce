import { NOT_REACHED_REASONS, type NotReachedReason } from '../../../trade/checklist/item.ts'
import type { Line } from '../../../trade/inspection/lines.ts'
import type { Answer } from '../../../trade/inspection/records.ts'
import type { Sheet } from '../offline/sheet.ts'
import { answer } from './acts.ts'

/** Why it could not be reached: nothing is skipped in silence. */
export function NotReached({ sheet, line, given }: { sheet: Sheet; line: Line; given: Answer }) {
  return (
    <div className="row" role="group" aria-label="Why not reached">
      {(Object.entries(NOT_REACHED_REASONS) as [NotReachedReason, string][]).map(([reason, words]) => (
        <button
          key={reason}
          type="button"
          className="press"
          aria-pressed={given.notReachedReason === reason}
          onClick={() => void answer(sheet, line, { result: 'not-reached', notReachedReason: reason })}
        >
          {words}
        </button>
      ))}
    </div>
  )
}
