import { Workbox } from 'workbox-window'

/** none: nothing new. ready: fetched, waits to be let in. taken-elsewhere: another window of this device let it in. */
export type NewVersion = 'none' | 'ready' | 'taken-elsewhere'

const ASK_EVERY_MS = 60 * 60_000

let state: NewVersion = 'none'
let worker: Workbox | null = null
let asked = false
const listeners = new Set<() => void>()

function put(next: NewVersion): void {
  state = next
  for (const listener of listeners) listener()
}

export const newVersion = {
  state: () => state,
  subscribe: (listener: () => void) => {
    listeners.add(listener)
    return () => listeners.delete(listener)
  },
}

/** Keeps the app itself on the device, so that it opens without signal; only https and localhost can. */
export function keepAppOnDevice(): void {
  if (!('serviceWorker' in navigator)) return
  worker = new Workbox('/field/sw.js', { scope: '/field/', updateViaCache: 'none' })
  worker.addEventListener('waiting', () => put('ready'))
  worker.addEventListener('controlling', ({ isUpdate, isExternal }) => {
    if (asked) location.reload()
    // This page still runs the old version, and goes on until somebody looks up from it.
    else if (isUpdate || isExternal) put('taken-elsewhere')
  })
  const ask = () => void worker?.update().catch(() => {})
  // By itself the browser asks some time after a start, when the service worker has come to rest. Refused by a private
  // window, or no signal: the app works as a page.
  worker.register().then(ask, () => {})
  setInterval(ask, ASK_EVERY_MS)
  window.addEventListener('online', ask)
}

/** Lets the new version in, and opens this place again in it. */
export function takeNewVersion(): void {
  if (state === 'taken-elsewhere') return location.reload()
  asked = true
  worker?.messageSkipWaiting()
}
