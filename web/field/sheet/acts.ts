import type { FieldOperationInput } from '../../../server/field/operation-schema.ts'
import type { Line } from '../../../trade/inspection/lines.ts'
import type { Answer } from '../../../trade/inspection/records.ts'
import type { Result } from '../../../trade/checklist/item.ts'
import { newId } from '../../shared/ids.ts'
import { isSameLine, type Sheet } from '../offline/sheet.ts'
import { keepOperation } from '../offline/outbox.ts'
import { readSheet, store, syncing } from '../offline/use-field.ts'

type Command = FieldOperationInput['command']
type PayloadOf<Name extends Command> = Extract<FieldOperationInput, { command: Name }>['payload']

/** Keeps one change on this device, begins the inspection before the first, and lets it be sent. */
export async function act<Name extends Command>(
  sheet: Sheet,
  command: Name,
  payload: PayloadOf<Name>,
  base?: number | null,
): Promise<void> {
  const inspectionId = sheet.inspection?.id ?? (await begin(sheet.id))
  await keepOperation(store, sheet.id, inspectionId, command, payload as never, { base: base ?? null })
  void syncing.now()
}

/** Begins it unless it has begun; read anew, since two taps may come before the screen is drawn again. */
export async function begin(visitId: string): Promise<string> {
  return store.transaction('rw', [store.visits, store.operations, store.sent], async () => {
    const known = (await readSheet(store, visitId))?.inspection
    if (known) return known.id
    const id = newId()
    await keepOperation(store, visitId, id, 'start-inspection', { visitId })
    return id
  })
}

export interface AnswerChange {
  result?: Result
  notReachedReason?: Answer['notReachedReason']
  note?: string
  readings?: Readonly<Record<string, unknown>>
  /** One reading, beside those that are there; null takes it away. */
  reading?: { name: string; value: unknown }
  disagreements?: { rule: string; reason: string }[]
}

let last: Promise<unknown> = Promise.resolve()

/** One after another: the second of two quick taps must see what the first one wrote. */
function inTurn<Result>(work: () => Promise<Result>): Promise<Result> {
  const next = last.then(work, work)
  last = next.catch(() => {})
  return next
}

/** Answers a line; what the change does not name stays as it stands on the device, not as the screen last drew it. */
export function answer(shown: Sheet, line: Line, change: AnswerChange): Promise<void> {
  return inTurn(async () => {
    const sheet = (await readSheet(store, shown.id)) ?? shown
    const before = sheet.inspection?.answers.find((each) =>
      isSameLine(each, { itemId: line.item.id, subjectId: line.subjectId }),
    )
    const result = change.result ?? (before?.result as Result | undefined) ?? 'ok'
    const reason = change.notReachedReason ?? before?.notReachedReason ?? null
    await act(
      sheet,
      'answer-item',
      {
        itemId: line.item.id,
        subjectKind: line.subjectKind,
        subjectId: line.subjectId,
        result,
        notReachedReason: (result === 'not-reached'
          ? reason
          : null) as PayloadOf<'answer-item'>['notReachedReason'],
        note: change.note ?? before?.note ?? '',
        readings: withReading(change.readings ?? before?.readings ?? {}, change.reading),
        disagreements: change.disagreements ?? disagreementsOf(before?.disagreements),
      },
      before?.version || null,
    )
  })
}

function withReading(readings: Readonly<Record<string, unknown>>, reading: AnswerChange['reading']) {
  if (!reading) return { ...readings }
  const { [reading.name]: _, ...others } = readings
  return reading.value === null ? others : { ...others, [reading.name]: reading.value }
}

function disagreementsOf(stored: readonly Record<string, unknown>[] | undefined) {
  return (stored ?? []).map((each) => ({ rule: String(each['rule']), reason: String(each['reason']) }))
}
