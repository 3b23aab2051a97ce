import type { PackVisit } from '../../../server/field/pack-schema.ts'
import type { FieldServer } from './server.ts'
import type { FieldStore } from './store.ts'

/** Visits that the server no longer names are removed, unless something made here for them has not been sent. */
export async function fetchDays(store: FieldStore, server: FieldServer): Promise<void> {
  const settled = await store.sent.toArray()
  const { visits, ...day } = await server.pack()
  await store.transaction(
    'rw',
    [store.visits, store.sent, store.operations, store.photos, store.steps, store.settings],
    async () => {
      const named = new Set(visits.map((each) => each.id))
      await store.visits.bulkPut(visits.map((visit) => ({ id: visit.id, startsAt: visit.startsAt, visit })))
      for (const visit of visits) await followInspection(store, visit)
      const busy = new Set([
        ...(await store.operations.where('state').notEqual('aside').toArray()).map((each) => each.visitId),
        ...(await store.photos.where('state').notEqual('sent').toArray()).map((each) => each.visitId),
        ...(await store.steps.toArray()).map((each) => each.visitId),
      ])
      const gone = (await store.visits.toCollection().primaryKeys()).filter(
        (id) => !named.has(id) && !busy.has(id),
      )
      // The fresh copies show what had been applied before they were asked for. A visit that stays without one goes on
      // showing what was done to it.
      const over = new Set([...named, ...gone])
      await store.sent.bulkDelete(settled.filter((each) => over.has(each.visitId)).map((each) => each.id))
      await store.visits.bulkDelete(gone)
      await store.photos.where('visitId').anyOf(gone).delete()
      await store.operations.where('visitId').anyOf(gone).delete()
      await store.settings.bulkPut([
        { key: 'day', value: day },
        { key: 'who', value: day.technician },
      ])
    },
  )
}

/** Two devices began one visit without signal: the pictures taken here show at the inspection that there is. */
async function followInspection(store: FieldStore, { id, inspection }: PackVisit): Promise<void> {
  if (!inspection) return
  await store.photos
    .where('visitId')
    .equals(id)
    .filter((photo) => photo.inspectionId !== inspection.id)
    .modify({ inspectionId: inspection.id })
}
