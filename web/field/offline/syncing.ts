import { alone, AnotherTab } from './alone.ts'
import type { Connect } from './server.ts'
import { type Contact, type PictureOnTheWay, synchronise } from './sync.ts'
import type { FieldStore } from './store.ts'

export interface Syncing {
  /** Now, or as soon as the attempt under way is over. */
  now: () => Promise<Contact>
  state: () => SyncState
  subscribe: (listener: () => void) => () => void
}
export interface SyncState {
  busy: boolean
  contact: Contact | null
  /** The picture that is being sent. */
  picture: PictureOnTheWay | null
}

const EVERY_MS = 30_000
const FIRST_RETRY_MS = 3000

/**
 * Keeps sending while the page is open: at the start, when the signal comes back, when the page is looked at, after each
 * change, and every half minute. Browsers send nothing in the background that can be relied on. Of several tabs one
 * sends: it holds the lock.
 */
export function startSyncing(store: FieldStore, connect: Connect): Syncing {
  const listeners = new Set<() => void>()
  let state: SyncState = { busy: false, contact: null, picture: null }
  let running: Promise<Contact> | null = null
  let again = false
  let failures = 0
  let timer: ReturnType<typeof setTimeout> | undefined

  const put = (next: Partial<SyncState>) => {
    state = { ...state, ...next }
    for (const listener of listeners) listener()
  }
  const attempt = async (): Promise<Contact> => {
    put({ busy: true })
    try {
      const contact = await alone(store, (renew) =>
        synchronise(store, connect, {
          onTheWay: async (picture) => {
            await renew()
            put({ picture: picture ?? null })
          },
        }),
      )
      failures = contact === 'ok' ? 0 : failures + 1
      put({ contact })
      return contact
    } catch (error) {
      // The other tab sends what was typed here, too: both look into one store.
      if (error instanceof AnotherTab) return state.contact ?? 'ok'
      failures++
      put({ contact: 'fault' })
      return 'fault'
    } finally {
      put({ busy: false, picture: null })
      running = null
      clearTimeout(timer)
      timer = setTimeout(() => void now(), again ? 0 : pause(failures))
      again = false
    }
  }
  const now = () => {
    if (running) again = true
    return (running ??= attempt())
  }

  if (typeof window !== 'undefined') {
    window.addEventListener('online', () => void now())
    document.addEventListener('visibilitychange', () => document.visibilityState === 'visible' && void now())
  }
  return {
    now,
    state: () => state,
    subscribe: (listener) => {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
  }
}

/** Growing pauses with some chance in them, so that a van full of phones does not ring all at once. */
function pause(failures: number): number {
  if (failures === 0) return EVERY_MS
  return Math.min(FIRST_RETRY_MS * 2 ** (failures - 1), 120_000) * (0.75 + Math.random() / 2)
}
