import type { FieldOperationInput } from '../../../server/field/operation-schema.ts'
import { OPERATION_VERSION } from '../../../trade/inspection/operation-version.ts'
import { newId } from '../../shared/ids.ts'
import { isDiskFull } from './storage-space.ts'
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
  const stored: StoredPhoto = { ...photo, state: 'waiting', problem: null }
  await store.photos.put(stored).catch((error: unknown) => {
    if (!isDiskFull(error)) throw error
    throw new Error('This device is full: the picture was not kept. Make room, then take it again.')
  })
  const kept = await store.photos.get(photo.id)
  if (kept?.bytes.byteLength !== photo.bytes.byteLength)
    throw new Error('The picture could not be kept. Free some space, then take it again.')
}

/**
 * What was refused as it is, sent again after a person mended it: under a new id, since the old one was judged. It stays
 * in its place among the others.
 */
export async function resend(
  store: FieldStore,
  seq: number,
  mended?: FieldOperationInput,
  now = new Date(),
): Promise<void> {
  await store.transaction('rw', store.operations, async () => {
    const stored = await store.operations.get(seq)
    if (!stored || stored.state === 'waiting') return
    const operation = { ...(mended ?? stored.operation), id: newId(now.getTime()) } as FieldOperationInput
    await store.operations.put({ ...stored, id: operation.id, operation, state: 'waiting', problem: null })
  })
}

/** Not to be sent: it stays readable on this device, with the reason, until its visit is over and gone from here. */
export async function setAside(
  store: FieldStore,
  seq: number,
  reason: string,
  now = new Date(),
): Promise<void> {
  const aside = { reason, at: now.toISOString() }
  await store.operations
    .where({ seq })
    .and(({ state }) => state === 'refused')
    .modify({ state: 'aside', aside })
}

/** The same picture under the same id: it never came to be at the office. */
export async function resendPhoto(
  store: FieldStore,
  id: string,
  change: Partial<Pick<StoredPhoto, 'findingId' | 'subjectId'>> = {},
): Promise<void> {
  await store.photos.update(id, { ...change, state: 'waiting', problem: null })
}
