import { useLiveQuery } from 'dexie-react-hooks'
import { useMemo } from 'react'
import type { MeView } from '../../../server/accounts/schema.ts'
import { http } from '../../shared/api/http.ts'
import { readSheet } from './read-sheet.ts'
import { connect } from './server.ts'
import type { Sheet } from './sheet.ts'
import { type Day, FieldStore } from './store.ts'
import { startSyncing } from './syncing.ts'
import { handOver, rememberStore, storeName } from './whose-store.ts'

/** The one store of this page. */
export const store = new FieldStore(storeName())
export const syncing = startSyncing(store, connect)

let isHandingOver = false
syncing.subscribe(() => {
  if (isHandingOver || syncing.state().contact !== 'other-person') return
  isHandingOver = true
  void openTheirs().catch(() => (isHandingOver = false))
})

async function openTheirs(): Promise<void> {
  const me = await http.get<MeView>('/me')
  rememberStore(await handOver(store, me.id))
  location.assign('/field/')
}

/** A visit as it stands on this device: the server's copy, and everything made here since. Undefined while it loads. */
export function useSheet(visitId: string): Sheet | null | undefined {
  return useLiveQuery(() => readSheet(store, visitId), [visitId])
}

export function useVisits() {
  return useLiveQuery(async () => {
    const kept = await store.visits.orderBy('startsAt').toArray()
    const steps = await store.steps.toArray()
    return kept.map(({ visit }) => ({ visit, steps: steps.filter((each) => each.visitId === visit.id) }))
  })
}

export function useDay(): Day | null | undefined {
  return useLiveQuery(() => store.setting<Day>('day'))
}

export interface Waiting {
  changes: number
  photos: number
  /** What the office did not take: a person decides. */
  refused: number
  lastContact: string | null
}

export function useWaiting(): Waiting | undefined {
  return useLiveQuery(async () => {
    const count = (state: 'waiting' | 'refused') =>
      Promise.all([
        store.operations.where('state').equals(state).count(),
        store.photos.where('state').equals(state).count(),
        store.steps.where('state').equals(state).count(),
      ])
    const [waiting, refused] = [await count('waiting'), await count('refused')]
    return {
      changes: waiting[0] + waiting[2],
      photos: waiting[1],
      refused: refused[0] + refused[1] + refused[2],
      lastContact: await store.setting<string>('lastContact'),
    }
  })
}

/** Pictures taken here for a line or a finding, as addresses that an <img> can show. */
export function usePhotos(inspectionId: string | undefined) {
  const photos = useLiveQuery(
    () => (inspectionId ? store.photos.where('inspectionId').equals(inspectionId).toArray() : []),
    [inspectionId],
  )
  return useMemo(
    () =>
      (photos ?? []).map((photo) => ({
        ...photo,
        url: URL.createObjectURL(new Blob([photo.bytes], { type: 'image/jpeg' })),
      })),
    [photos],
  )
}
