import { cacheNames } from 'workbox-core'
import { cleanupOutdatedCaches, createHandlerBoundToURL, precacheAndRoute } from 'workbox-precaching'
import { NavigationRoute, registerRoute } from 'workbox-routing'

// Keeps the field app itself on the device, and nothing else: the day's visits lie in IndexedDB, and what is asked under
// /api goes to the server or fails. An answer kept here would contradict what was typed since.

/** Where the browser knows static routes: https://w3c.github.io/ServiceWorker/#install-event-section */
interface InstallEvent {
  addRoutes?: (rule: {
    condition: { urlPattern: string }
    source: { cacheName: string }
  }) => Promise<void> | undefined
}

declare const self: {
  /** Put in by the build: every file that the field app loads. */
  __WB_MANIFEST: { url: string; revision: string | null }[]
  addEventListener: ((
    type: 'message',
    listener: (event: MessageEvent<{ type?: string } | undefined>) => void,
  ) => void) &
    ((type: 'install', listener: (event: InstallEvent) => void) => void)
  skipWaiting: () => Promise<void>
}

// Files whose names change with their content are read from the cache by the browser itself: each way through here costs
// a start some milliseconds.
self.addEventListener('install', (event) => {
  void event.addRoutes?.({
    condition: { urlPattern: '/assets/*' },
    source: { cacheName: cacheNames.precache },
  })
})

// The page asks the database as its first act: opened here, it is open by then. Makes nothing where there is none.
void indexedDB.databases?.().catch(() => {})

precacheAndRoute(self.__WB_MANIFEST)
cleanupOutdatedCaches()
// Every address of the app is the one page; which screen it shows stands in the address.
registerRoute(new NavigationRoute(createHandlerBoundToURL('/field/index.html')))

// A new version waits until a person, or an idle screen, lets it in.
self.addEventListener('message', (event) => {
  if (event.data?.type === 'SKIP_WAITING') void self.skipWaiting()
})
