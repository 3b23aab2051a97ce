import { useEffect, useSyncExternalStore } from 'react'
import { isAllSent } from '../offline/storage-space.ts'
import { store } from '../offline/use-field.ts'
import css from './new-version-bar.module.css'
import { newVersion, takeNewVersion } from './new-version.ts'
import { whenIdle } from './when-idle.ts'

/**
 * Says that a new version is ready. Shown only where nothing is typed (my day, sending): nothing moves under a thumb.
 * Left alone there with all sent, the page lets it in by itself.
 */
export function NewVersionBar() {
  const state = useSyncExternalStore(newVersion.subscribe, newVersion.state)
  useEffect(() => (state === 'none' ? undefined : whenIdle(() => isAllSent(store), takeNewVersion)), [state])
  if (state === 'none') return null
  return (
    <aside className={css.bar} aria-label="New version">
      <p role="status">
        {state === 'ready'
          ? 'A new version is ready. What you typed stays.'
          : 'Another window took the new version. This one still shows the old one.'}
      </p>
      <button type="button" className="press" onClick={takeNewVersion}>
        {state === 'ready' ? 'Take it now' : 'Show the new one'}
      </button>
    </aside>
  )
}
