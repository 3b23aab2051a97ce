import type { OperationOutcome } from '../../../server/field/operation-schema.ts'
import { ApiProblem } from '../../shared/api/http.ts'
import { type FieldServer, isForLater } from './server.ts'
import type { FieldStore, Refused, StoredOperation } from './store.ts'

/** How the last attempt ended. */
export type Contact = 'ok' | 'no-answer' | 'log-in'
const AT_ONCE = 50

/**
 * Sends what waits, oldest first, then fetches the days anew. Whatever happens between two steps, running it again does
 * no harm: the server knows each operation by its id, and nothing leaves the outbox before the server's answer.
 */
export async function synchronise(
  store: FieldStore,
  server: FieldServer,
  now: () => Date = () => new Date(),
): Promise<Contact> {
  try {
    await sendOperations(store, server)
    await sendPhotos(store, server)
    await sendSteps(store, server)
    await fetchDays(store, server)
    await store.settings.put({ key: 'lastContact', value: now().toISOString() })
    return 'ok'
  } catch (error) {
    if (!isForLater(error)) throw error
    return error instanceof ApiProblem && error.status === 401 ? 'log-in' : 'no-answer'
  }
}

async function sendOperations(store: FieldStore, server: FieldServer): Promise<void> {
  const deviceId = await store.deviceId()
  const held = new Set<string>()
  for (;;) {
    const waiting = await store.operations.where('state').equals('waiting').sortBy('seq')
    const batch = waiting.filter((each) => !held.has(each.inspectionId)).slice(0, AT_ONCE)
    if (batch.length === 0) return
    const { outcomes } = await server.send(
      deviceId,
      batch.map((each) => each.operation),
    )
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
  const seq = stored.seq!
  if (outcome.outcome === 'refused') {
    await store.operations.update(seq, { state: 'refused', problem: wordsOf(outcome.problem ?? {}) })
    return
  }
  // In one transaction: it is either still to be sent, or known to be applied; never neither.
  await store.transaction('rw', store.operations, store.sent, async () => {
    await store.sent.put({ id: stored.id, visitId: stored.visitId, seq, operation: stored.operation })
    await store.operations.delete(seq)
  })
}

async function sendPhotos(store: FieldStore, server: FieldServer): Promise<void> {
  const waiting = await store.photos.where('state').equals('waiting').primaryKeys()
  for (const id of waiting) {
    const photo = await store.photos.get(id)
    if (!photo) continue
    // Its inspection has not reached the server yet: the picture waits for it.
    const before = await store.operations.where('inspectionId').equals(photo.inspectionId).toArray()
    if (before.some((each) => each.state === 'waiting')) continue
    try {
      await server.photo(photo)
      await store.photos.update(id, { state: 'sent', problem: null })
    } catch (error) {
      if (isForLater(error)) throw error
      await store.photos.update(id, { state: 'refused', problem: wordsOf((error as ApiProblem).body) })
    }
  }
}

async function sendSteps(store: FieldStore, server: FieldServer): Promise<void> {
  for (const step of await store.steps.where('state').equals('waiting').sortBy('seq')) {
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

/** Visits that the server no longer names are removed, unless something made here for them has not been sent. */
async function fetchDays(store: FieldStore, server: FieldServer): Promise<void> {
  const settled = new Set((await store.sent.toArray()).map((each) => each.id))
  const { visits, ...day } = await server.pack()
  await store.transaction(
    'rw',
    [store.visits, store.sent, store.operations, store.photos, store.settings],
    async () => {
      const named = new Set(visits.map((each) => each.id))
      await store.visits.bulkPut(visits.map((visit) => ({ id: visit.id, startsAt: visit.startsAt, visit })))
      // The fresh copies show what had been applied before they were asked for.
      await store.sent.bulkDelete([...settled])
      const busy = new Set([
        ...(await store.operations.toArray()).map((each) => each.visitId),
        ...(await store.photos.where('state').notEqual('sent').toArray()).map((each) => each.visitId),
      ])
      const gone = (await store.visits.toCollection().primaryKeys()).filter(
        (id) => !named.has(id) && !busy.has(id),
      )
      await store.visits.bulkDelete(gone)
      await store.photos.where('visitId').anyOf(gone).delete()
      await store.settings.put({ key: 'day', value: day })
    },
  )
}

function wordsOf(problem: Readonly<Record<string, unknown>>): Refused {
  return {
    type: String(problem['type'] ?? 'about:blank'),
    title: String(problem['title'] ?? 'The office did not take this'),
    detail: String(problem['detail'] ?? ''),
  }
}
