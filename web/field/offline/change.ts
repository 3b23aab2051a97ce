import type { FieldOperationInput } from '../../../server/field/operation-schema.ts'
import type { Result } from '../../../trade/checklist/item.ts'
import type { Answer } from '../../../trade/inspection/records.ts'
import { newId } from '../../shared/ids.ts'
import { keepOperation } from './outbox.ts'
import { readSheet } from './read-sheet.ts'
import { isSameLine, type LineRef } from './sheet.ts'
import type { FieldStore } from './store.ts'

type Command = FieldOperationInput['command']
export type PayloadOf<Name extends Command> = Extract<FieldOperationInput, { command: Name }>['payload']

/** Version that the person saw, and the device's clock. */
interface Seen {
  base?: number | null | undefined
  now?: Date | undefined
}

/** Keeps one change on this device, and begins the inspection before the first. */
export async function change<Name extends Command>(
  store: FieldStore,
  visitId: string,
  command: Name,
  payload: PayloadOf<Name>,
  { base = null, now = new Date() }: Seen = {},
): Promise<string> {
  const inspectionId = await begin(store, visitId, now)
  return keepOperation(store, visitId, inspectionId, command, payload as never, { base, now })
}

/** Begins it unless it has begun; read anew, since two taps may come before the screen is drawn again. */
export async function begin(store: FieldStore, visitId: string, now = new Date()): Promise<string> {
  return store.transaction('rw', [store.visits, store.operations, store.sent], async () => {
    const known = (await readSheet(store, visitId))?.inspection
    if (known) return known.id
    const id = newId(now.getTime())
    await keepOperation(store, visitId, id, 'start-inspection', { visitId }, { now })
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

/** Answers a line; what the change does not name stays as it stands on the device, not as the screen last drew it. */
export async function changeAnswer(
  store: FieldStore,
  visitId: string,
  line: LineRef & { subjectKind: Answer['subjectKind'] },
  { reading, ...given }: AnswerChange,
  now = new Date(),
): Promise<string> {
  const before = (await readSheet(store, visitId))?.inspection?.answers.find((each) => isSameLine(each, line))
  const result = given.result ?? (before?.result as Result | undefined) ?? 'ok'
  const reason = given.notReachedReason ?? before?.notReachedReason ?? null
  return change(
    store,
    visitId,
    'answer-item',
    {
      itemId: line.itemId,
      subjectKind: line.subjectKind,
      subjectId: line.subjectId ?? null,
      result,
      notReachedReason: (result === 'not-reached'
        ? reason
        : null) as PayloadOf<'answer-item'>['notReachedReason'],
      note: given.note ?? before?.note ?? '',
      readings: withReading(given.readings ?? before?.readings ?? {}, reading),
      disagreements: given.disagreements ?? disagreementsOf(before?.disagreements),
    },
    { base: before?.version || null, now },
  )
}

function withReading(readings: Readonly<Record<string, unknown>>, reading: AnswerChange['reading']) {
  if (!reading) return { ...readings }
  const { [reading.name]: _, ...others } = readings
  return reading.value === null ? others : { ...others, [reading.name]: reading.value }
}

function disagreementsOf(stored: readonly Record<string, unknown>[] | undefined) {
  return (stored ?? []).map((each) => ({ rule: String(each['rule']), reason: String(each['reason']) }))
}
