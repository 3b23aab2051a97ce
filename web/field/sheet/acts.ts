import type { FieldOperationInput } from '../../../server/field/operation-schema.ts'
import type { Result } from '../../../trade/checklist/item.ts'
import type { Line } from '../../../trade/inspection/lines.ts'
import {
  type AnswerChange,
  begin as beginOn,
  change,
  changeAnswer,
  type PayloadOf,
} from '../offline/change.ts'
import { keeping } from '../offline/keeping.ts'
import { keepOperation } from '../offline/outbox.ts'
import { readSheet } from '../offline/read-sheet.ts'
import { isSameLine, type Sheet } from '../offline/sheet.ts'
import { store } from '../offline/use-field.ts'

/** Keeps one change on this device, begins the inspection before the first, and lets it be sent. */
export async function act<Name extends FieldOperationInput['command']>(
  sheet: Sheet,
  command: Name,
  payload: PayloadOf<Name>,
  base?: number | null,
): Promise<void> {
  await keeping(() => change(store, sheet.id, command, payload, { base }))
}

export const begin = (visitId: string): Promise<string> => beginOn(store, visitId)

let last: Promise<unknown> = Promise.resolve()

/** One after another: the second of two quick taps must see what the first one wrote. */
async function inTurn(work: () => Promise<unknown>): Promise<void> {
  const next = keeping(() => last.then(work, work))
  last = next.catch(() => {})
  // A promise of its own: the one above counts as caught, and a full disk would go unheard.
  await next
}

/** Answers a line; what the change does not name stays as it is. */
export function answer(shown: Sheet, line: Line, given: AnswerChange): Promise<void> {
  const { item, subjectKind, subjectId } = line
  return inTurn(() => changeAnswer(store, shown.id, { itemId: item.id, subjectKind, subjectId }, given))
}

/** Answers many lines alike, all of them or none. */
export function answerAll(shown: Sheet, lines: readonly Line[], result: Result): Promise<void> {
  return inTurn(async () => {
    const inspectionId = await begin(shown.id)
    await store.transaction('rw', store.operations, async () => {
      for (const { item, subjectKind, subjectId } of lines) {
        const payload = { itemId: item.id, subjectKind, subjectId, result }
        await keepOperation(store, shown.id, inspectionId, 'answer-item', payload)
      }
    })
  })
}

/** Takes answers back that nothing was added to since. */
export function takeBack(shown: Sheet, lines: readonly Line[]): Promise<void> {
  return inTurn(async () => {
    const inspection = (await readSheet(store, shown.id))?.inspection
    if (!inspection) return
    const isUntouched = ({ item, subjectId }: Line) => {
      const given = inspection.answers.find((each) => isSameLine(each, { itemId: item.id, subjectId }))
      return given?.result === 'ok' && !given.note && Object.keys(given.readings).length === 0
    }
    await store.transaction('rw', store.operations, async () => {
      for (const { item, subjectKind, subjectId } of lines.filter(isUntouched)) {
        const payload = { itemId: item.id, subjectKind, subjectId }
        await keepOperation(store, shown.id, inspection.id, 'clear-answer', payload)
      }
    })
  })
}

export type FindingChange = Partial<Omit<PayloadOf<'save-finding'>, 'findingId'>>

/** Changes a finding of this visit; what the change does not name stays as it stands on the device. */
export function changeFinding(shown: Sheet, findingId: string, said: FindingChange): Promise<void> {
  return inTurn(async () => {
    const sheet = (await readSheet(store, shown.id)) ?? shown
    const before = sheet.inspection?.findings.find((each) => each.id === findingId)
    if (!before) return
    const { itemId, spaceId, equipmentId, severity, proposedSeverity, loweredReason, rule } = before
    const { text, correction, makeSafe, watchUntil, version } = before
    const words = {
      itemId,
      spaceId,
      equipmentId,
      loweredReason,
      rule,
      text,
      correction,
      makeSafe,
      watchUntil,
    }
    const payload = { findingId, severity, proposedSeverity, ...words, ...said }
    await change(store, sheet.id, 'save-finding', payload as PayloadOf<'save-finding'>, {
      base: version || null,
    })
  })
}
