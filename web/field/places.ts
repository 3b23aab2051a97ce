import { useSyncExternalStore } from 'react'

/** Where in the app somebody is: kept in the address, so that a reload comes back to the same place. */
export type Place =
  | { at: 'my-day' }
  | { at: 'sync' }
  | { at: 'visit'; visitId: string }
  | { at: 'area'; visitId: string; areaId: string; line: string | null }
  | { at: 'finish'; visitId: string }

export function placeOf(url: URL): Place {
  const [, , first, visitId, what, areaId] = url.pathname.split('/')
  if (first === 'sync') return { at: 'sync' }
  if (first !== 'visit' || !visitId) return { at: 'my-day' }
  if (what === 'finish') return { at: 'finish', visitId }
  if (what === 'area' && areaId)
    return { at: 'area', visitId, areaId, line: url.hash ? decodeURIComponent(url.hash.slice(1)) : null }
  return { at: 'visit', visitId }
}

export function pathOf(place: Place): string {
  switch (place.at) {
    case 'my-day':
      return '/field/'
    case 'sync':
      return '/field/sync'
    case 'visit':
      return `/field/visit/${place.visitId}`
    case 'finish':
      return `/field/visit/${place.visitId}/finish`
    case 'area':
      return `/field/visit/${place.visitId}/area/${place.areaId}${place.line ? `#${encodeURIComponent(place.line)}` : ''}`
  }
}

const listeners = new Set<() => void>()
let moved = false
const tell = () => {
  moved = true
  listeners.forEach((listener) => listener())
}

/** Whether somebody came here by a link of the app: then a screen takes the focus to its heading. */
export const hasMoved = () => moved

export function go(place: Place): void {
  history.pushState(null, '', pathOf(place))
  tell()
  window.scrollTo(0, 0)
}

export function usePlace(): Place {
  const href = useSyncExternalStore(
    (listener) => {
      listeners.add(listener)
      window.addEventListener('popstate', tell)
      return () => {
        listeners.delete(listener)
        window.removeEventListener('popstate', tell)
      }
    },
    () => location.href,
  )
  return placeOf(new URL(href))
}
