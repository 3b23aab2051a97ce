import type { FieldOperationInput } from '../../../server/field/operation-schema.ts'
import { OPERATION_VERSION } from '../../../trade/inspection/operation-version.ts'
import { newId } from '../../shared/ids.ts'
import type { FieldStore, StoredPhoto, StoredStep } from './store.ts'

type Named<Command extends FieldOperationInput['command']> = Extract<
  FieldOperationInput,
  { command: Command }
>

/**
 * Keeps a change on the device; only when it lies there does the screen show it as done.
 * @throws when the disk is full: the change was not kept, and the person is told
 */
export async function keepOperation<Command extends FieldOperationInput['command']>(
  store: FieldStore,
  visitId: string,
  inspectionId: string,
  command: Command,
  payload: Named<Command>['payload'],
  more: { base?: number | null; now?: Date } = {},
): Promise<string> {
  const now = more.now ?? new Date()
  const id = newId(now.getTime())
  const operation = {
    v: OPERATION_VERSION,
    id,
    at: now.toISOString(),
    inspectionId,
    base: more.base ?? null,
    command,
    payload,
  } as FieldOperationInput
  await store.operations.add({ id, inspectionId, visitId, operation, state: 'waiting', problem: null })
  return id
}

export async function keepStep(
  store: FieldStore,
  visitId: string,
  step: StoredStep['step'],
  now = new Date(),
): Promise<void> {
  await store.steps.add({
    visitId,
    step,
    at: now.toISOString(),
    key: newId(),
    state: 'waiting',
    problem: null,
  })
}

/** Keeps a picture and reads it back: what is shown as kept really lies on the device. */
export async function keepPhoto(
  store: FieldStore,
  photo: Omit<StoredPhoto, 'state' | 'problem'>,
): Promise<void> {
  await store.photos.put({ ...photo, state: 'waiting', problem: null })
  const kept = await store.photos.get(photo.id)
  if (kept?.bytes.byteLength !== photo.bytes.byteLength)
    throw new Error('The picture could not be kept. Free some space, then take it again.')
}

/** What may not be sent as it is: sent again after a person mended it, under a new id since the old one was judged. */
export async function resend(store: FieldStore, seq: number, mended?: FieldOperationInput): Promise<void> {
  await store.transaction('rw', store.operations, async () => {
    const stored = await store.operations.get(seq)
    if (!stored) return
    const operation = { ...(mended ?? stored.operation), id: newId() } as FieldOperationInput
    await store.operations.put({ ...stored, id: operation.id, operation, state: 'waiting', problem: null })
  })
}

/** Given up by a person, after it was offered as a file. */
export async function dropOperation(store: FieldStore, seq: number): Promise<void> {
  await store.operations.delete(seq)
}
