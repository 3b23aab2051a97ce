import type { OperationOutcome } from '../../../server/field/operation-schema.ts'
import { ApiProblem, NoAnswer } from '../../shared/api/http.ts'
import { fetchDays } from './days.ts'
import { type Connect, type FieldServer, isForLater } from './server.ts'
import type { FieldStore, Refused, StoredOperation } from './store.ts'
import { wipe } from './wipe.ts'

/**
 * How the last attempt ended. `other-person`: somebody else is logged in; `revoked`: the office ended this device's
 * session, and what it held has been deleted; `fault`: something on the device itself, such as a full disk.
 */
export type Contact = 'ok' | 'no-answer' | 'log-in' | 'other-person' | 'revoked' | 'fault'
const AT_ONCE = 50

/** The picture that is being sent: which of how many, and how many of its bytes the office has. */
export interface PictureOnTheWay {
  next: number
  of: number
  sent: number
  bytes: number
}
/** Told before each request. Throws to stop where it is. */
export type OnTheWay = (picture?: PictureOnTheWay) => Promise<void> | void

/**
 * Sends what waits, oldest first, then fetches the days anew, and sends the pictures last. Whatever happens between two
 * steps, running it again does no harm: the server knows each operation by its id, and nothing leaves the outbox before
 * the server's answer.
 */
export async function synchronise(
  store: FieldStore,
  connect: Connect,
  { now = () => new Date(), onTheWay = () => {} }: { now?: () => Date; onTheWay?: OnTheWay } = {},
): Promise<Contact> {
  const server = connect(await store.person())
  try {
    await sendOperations(store, server, onTheWay)
    await sendSteps(store, server, onTheWay)
    await onTheWay()
    await fetchDays(store, server)
    await sendPhotos(store, server, onTheWay)
    await store.settings.put({ key: 'lastContact', value: now().toISOString() })
    return 'ok'
  } catch (error) {
    if (error instanceof NoAnswer) return 'no-answer'
    if (!(error instanceof ApiProblem) || !isForLater(error)) throw error
    if (error.type === 'device-revoked') {
      await wipe(store, server)
      return 'revoked'
    }
    if (error.type === 'other-person') return 'other-person'
    return error.status === 401 ? 'log-in' : 'no-answer'
  }
}

async function sendOperations(store: FieldStore, server: FieldServer, onTheWay: OnTheWay): Promise<void> {
  const deviceId = await store.deviceId()
  const held = new Set<string>()
  let atOnce = AT_ONCE
  for (;;) {
    const waiting = await store.operations.where('state').equals('waiting').sortBy('seq')
    const batch = waiting.filter((each) => !held.has(each.inspectionId)).slice(0, atOnce)
    if (batch.length === 0) return
    await onTheWay()
    let outcomes: readonly OperationOutcome[]
    try {
      const answer = await server.send(
        deviceId,
        batch.map((each) => each.operation),
      )
      outcomes = answer.outcomes
    } catch (error) {
      if (isForLater(error)) throw error
      // Not one operation but the sending as such was refused: one by one it is seen which of them it is.
      if (batch.length === 1) await refuse(store, batch[0]!, (error as ApiProblem).body)
      atOnce = 1
      continue
    }
    const byId = new Map(outcomes.map((each) => [each.id, each]))
    for (const stored of batch) {
      const outcome = byId.get(stored.id)
      // "later" stops that inspection for now, so that its order is kept; the others go on.
      if (!outcome || outcome.outcome === 'later' || held.has(stored.inspectionId))
        held.add(stored.inspectionId)
      else await settle(store, stored, outcome)
    }
  }
}

async function settle(store: FieldStore, stored: StoredOperation, outcome: OperationOutcome): Promise<void> {
  if (outcome.outcome === 'refused') return refuse(store, stored, outcome.problem ?? {})
  const seq = stored.seq!
  // In one transaction: it is either still to be sent, or known to be applied; never neither.
  await store.transaction('rw', store.operations, store.sent, async () => {
    await store.sent.put({ id: stored.id, visitId: stored.visitId, seq, operation: stored.operation })
    await store.operations.delete(seq)
  })
}

async function refuse(
  store: FieldStore,
  { seq }: StoredOperation,
  problem: Readonly<Record<string, unknown>>,
): Promise<void> {
  await store.operations.update(seq!, { state: 'refused', problem: wordsOf(problem) })
}

/** Pictures go one by one, and whatever is typed meanwhile goes before the next: it is small, and the office waits. */
async function sendPhotos(store: FieldStore, server: FieldServer, onTheWay: OnTheWay): Promise<void> {
  const waiting = await store.photos.where('state').equals('waiting').primaryKeys()
  for (const [index, id] of waiting.entries()) {
    await sendOperations(store, server, onTheWay)
    const photo = await store.photos.get(id)
    if (photo?.state !== 'waiting') continue
    // What it belongs to has not reached the server yet: the picture waits for it.
    const before = await store.operations.where('visitId').equals(photo.visitId).toArray()
    if (before.some((each) => each.state === 'waiting')) continue
    const picture = { next: index + 1, of: waiting.length, bytes: photo.bytes.byteLength }
    try {
      await server.photo(photo, {
        begins: async () => {
          if (!photo.begun) await store.photos.update(id, { begun: true })
        },
        bytes: (sent) => onTheWay({ ...picture, sent }),
      })
      await store.photos.update(id, { state: 'sent', problem: null })
    } catch (error) {
      if (isForLater(error)) throw error
      await store.photos.update(id, { state: 'refused', problem: wordsOf((error as ApiProblem).body) })
    }
  }
}

async function sendSteps(store: FieldStore, server: FieldServer, onTheWay: OnTheWay): Promise<void> {
  for (const step of await store.steps.where('state').equals('waiting').sortBy('seq')) {
    await onTheWay()
    try {
      await server.step(step)
      await store.steps.delete(step.seq!)
    } catch (error) {
      if (isForLater(error)) throw error
      // Somebody moved or finished the visit meanwhile: the visit's own state counts, the step is moot.
      if ((error as ApiProblem).type === 'wrong-state') await store.steps.delete(step.seq!)
      else
        await store.steps.update(step.seq!, {
          state: 'refused',
          problem: wordsOf((error as ApiProblem).body),
        })
    }
  }
}

function wordsOf(problem: Readonly<Record<string, unknown>>): Refused {
  return {
    type: String(problem['type'] ?? 'about:blank'),
    title: String(problem['title'] ?? 'The office did not take this'),
    detail: String(problem['detail'] ?? ''),
  }
}
