import type { Lock } from '../lock/lock.ts'
import { type Day, FieldStore, type KeptVisit, type StoredStep } from './store.ts'
import { storeName } from './whose-store.ts'

/** The one store of this page. It is opened while the rest of the program is still being read. */
export const store = new FieldStore(storeName())

/** What the first screen shows, as it was last read from the store. */
interface Known {
  lock?: Lock | null
  day?: Day | null
  visits?: KeptVisit[]
  steps?: StoredStep[]
}
export const known: Known = {}

/** Everything for the first screen in one go, so that it is drawn once and whole. Never fails: then it is drawn without. */
export const readAtStart: Promise<void> = store
  .transaction('r', store.settings, store.visits, store.steps, async () => {
    const [lock, day, visits, steps] = await Promise.all([
      store.setting<Lock>('lock'),
      store.setting<Day>('day'),
      store.visits.orderBy('startsAt').toArray(),
      store.steps.toArray(),
    ])
    Object.assign(known, { lock, day, visits, steps })
  })
  .catch(() => {})
