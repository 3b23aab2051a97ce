import type { FieldOperationInput } from '../../../server/field/operation-schema.ts'
import type { Line } from '../../../trade/inspection/lines.ts'
import {
  type AnswerChange,
  begin as beginOn,
  change,
  changeAnswer,
  type PayloadOf,
} from '../offline/change.ts'
import type { Sheet } from '../offline/sheet.ts'
import { store, syncing } from '../offline/use-field.ts'

/** Keeps one change on this device, begins the inspection before the first, and lets it be sent. */
export async function act<Name extends FieldOperationInput['command']>(
  sheet: Sheet,
  command: Name,
  payload: PayloadOf<Name>,
  base?: number | null,
): Promise<void> {
  await change(store, sheet.id, command, payload, { base })
  void syncing.now()
}

export const begin = (visitId: string): Promise<string> => beginOn(store, visitId)

let last: Promise<unknown> = Promise.resolve()

/** One after another: the second of two quick taps must see what the first one wrote. */
function inTurn<Result>(work: () => Promise<Result>): Promise<Result> {
  const next = last.then(work, work)
  last = next.catch(() => {})
  return next
}

/** Answers a line; what the change does not name stays as it is. */
export function answer(shown: Sheet, line: Line, given: AnswerChange): Promise<void> {
  const { item, subjectKind, subjectId } = line
  return inTurn(async () => {
    await changeAnswer(store, shown.id, { itemId: item.id, subjectKind, subjectId }, given)
    void syncing.now()
  })
}
