import { isDiskFull } from './storage-space.ts'

/** Why the last change could not be kept on this device; null when there is nothing to tell. */
export type NotKept = 'disk-full' | 'store-failed' | null

let state: NotKept = null
const listeners = new Set<() => void>()
function put(next: NotKept): void {
  state = next
  for (const listener of listeners) listener()
}

export const notKept = {
  state: () => state,
  subscribe: (listener: () => void) => {
    listeners.add(listener)
    return () => listeners.delete(listener)
  },
  dismiss: () => put(null),
}

/** Errors of IndexedDB and of Dexie over it, whose names they share. */
const STORE_FAILED =
  /^(Abort|DatabaseClosed|InvalidState|Unknown|Transaction\w*|VersionChange|OpenFailed|MissingAPI)Error$/

export function whyNotKept(error: unknown): NotKept {
  if (isDiskFull(error)) return 'disk-full'
  return error instanceof Error && STORE_FAILED.test(error.name) ? 'store-failed' : null
}

/**
 * Buttons and fields do not wait for what they keep. Whichever of them fails ends here, and the person is told; a
 * fault of another kind stays one for the console.
 */
export function watchForNotKept(): void {
  addEventListener('unhandledrejection', (event) => {
    const why = whyNotKept(event.reason)
    if (!why) return
    event.preventDefault()
    put(why)
  })
}
