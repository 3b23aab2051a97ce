import { useSyncExternalStore } from 'react'
import { GoTo } from '../parts/go-to.tsx'
import { syncing, useWaiting } from '../offline/use-field.ts'

/** In a word: all sent, so many waiting, or something for a person to decide. */
export function SyncMark() {
  const waiting = useWaiting()
  const { contact } = useSyncExternalStore(syncing.subscribe, syncing.state)
  if (!waiting) return null
  const count = waiting.changes + waiting.photos
  const words =
    waiting.refused > 0
      ? `${waiting.refused} need you`
      : contact === 'log-in'
        ? 'Log in again'
        : count > 0
          ? `${count} waiting`
          : contact === 'no-answer'
            ? 'No signal'
            : 'All sent'
  const shape =
    waiting.refused > 0 || contact === 'log-in' ? '▲' : count > 0 || contact === 'no-answer' ? '○' : '●'
  return (
    <GoTo place={{ at: 'sync' }} className="press" label={`Sending: ${words}`}>
      <span aria-hidden="true">{shape}</span> {words}
    </GoTo>
  )
}
