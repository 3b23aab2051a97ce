import { useLiveQuery } from 'dexie-react-hooks'
import { useSyncExternalStore } from 'react'
import type { MeView } from '../../../server/accounts/schema.ts'
import { http } from '../../shared/api/http.ts'
import { known, store } from './at-start.ts'
import { readSheet } from './read-sheet.ts'
import { connect } from './server.ts'
import type { Sheet } from './sheet.ts'
import type { Day } from './store.ts'
import { startSyncing } from './syncing.ts'
import { unkept } from './unkept.ts'
import { handOver, rememberStore } from './whose-store.ts'

export { store }
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
  const visits = useLiveQuery(
    async () => (known.visits = await store.visits.orderBy('startsAt').toArray()),
    [],
    known.visits,
  )
  const steps = useLiveQuery(async () => (known.steps = await store.steps.toArray()), [], known.steps)
  if (!visits || !steps) return undefined
  return visits.map(({ visit }) => ({ visit, steps: steps.filter((each) => each.visitId === visit.id) }))
}

export function useDay(): Day | null | undefined {
  return useLiveQuery(async () => (known.day = await store.setting<Day>('day')), [], known.day)
}

export interface Waiting {
  /** Also those that are still being typed. */
  changes: number
  photos: number
  /** What the office did not take: a person decides. */
  refused: number
  lastContact: string | null
}

export function useWaiting(): Waiting | undefined {
  const typed = useSyncExternalStore(unkept.subscribe, unkept.count)
  const read = useLiveQuery(async () => {
    const count = (state: 'waiting' | 'refused') =>
      Promise.all([
        store.operations.where('state').equals(state).count(),
        store.photos.where('state').equals(state).count(),
        store.steps.where('state').equals(state).count(),
      ])
    const [waiting, refused] = [await count('waiting'), await count('refused')]
    return {
      typed,
      changes: waiting[0] + waiting[2],
      photos: waiting[1],
      refused: refused[0] + refused[1] + refused[2],
      lastContact: await store.setting<string>('lastContact'),
    }
  }, [typed])
  // What was kept a moment ago counts as typed until the store was read again: in between it would be nowhere.
  return read && { ...read, changes: read.changes + Math.max(typed, read.typed) }
}
