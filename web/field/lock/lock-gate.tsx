import { useLiveQuery } from 'dexie-react-hooks'
import { type ReactNode, useEffect } from 'react'
import { known } from '../offline/at-start.ts'
import { store } from '../offline/use-field.ts'
import { Opening } from '../parts/opening.tsx'
import { activeAt, noteActivity } from './activity.ts'
import { changeLock, isAway, type Lock, readLock } from './lock.ts'
import { LockScreen } from './lock-screen.tsx'

const LOOK_EVERY_MS = 5000

/** Shows what lies behind it unless this device's screen is locked; locks it when nobody touched it for a while. */
export function LockGate({ children }: { children: ReactNode }) {
  const lock = useLock()
  const isLocked = lock ? lock.isLocked || isAway(lock, activeAt(), Date.now()) : false
  const afterMinutes = lock?.afterMinutes ?? null
  useEffect(() => {
    if (isLocked) void changeLock(store, { isLocked: true })
  }, [isLocked])
  useEffect(() => {
    if (afterMinutes === null || isLocked) return
    const lookAway = () => {
      if (isAway({ afterMinutes }, activeAt(), Date.now())) void changeLock(store, { isLocked: true })
    }
    // Coming back is no activity before it was judged how long one was away.
    const onShown = () => document.visibilityState === 'visible' && lookAway()
    const onTouch = () => noteActivity()
    const timer = setInterval(lookAway, LOOK_EVERY_MS)
    document.addEventListener('visibilitychange', onShown)
    document.addEventListener('pointerdown', onTouch)
    document.addEventListener('keydown', onTouch)
    return () => {
      clearInterval(timer)
      document.removeEventListener('visibilitychange', onShown)
      document.removeEventListener('pointerdown', onTouch)
      document.removeEventListener('keydown', onTouch)
    }
  }, [afterMinutes, isLocked])
  if (lock === undefined) return <Opening />
  return lock && isLocked ? <LockScreen lock={lock} /> : children
}

export function useLock(): Lock | null | undefined {
  return useLiveQuery(async () => (known.lock = await readLock(store)), [], known.lock)
}

/** One tap, before the phone is laid aside. Only there when a PIN is set. */
export function LockButton() {
  const lock = useLock()
  if (!lock) return null
  return (
    <button type="button" className="press" onClick={() => void changeLock(store, { isLocked: true })}>
      Lock
    </button>
  )
}
