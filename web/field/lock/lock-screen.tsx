import { type FormEvent, lazy, Suspense, useEffect, useState } from 'react'
import { store } from '../offline/use-field.ts'
import { noteActivity } from './activity.ts'
import { isSpent, type Lock, MOST_WRONG, tryPin } from './lock.ts'
import css from './lock.module.css'

// Rarely needed, and only with a signal: it is fetched then.
const OpenByLogIn = lazy(() => import('./open-by-log-in.tsx').then((its) => ({ default: its.OpenByLogIn })))

/** Over everything: the PIN, also without signal; after too many wrong ones, only the log-in. */
export function LockScreen({ lock }: { lock: Lock }) {
  const [pin, setPin] = useState('')
  const [busy, setBusy] = useState(false)
  const [byLogIn, setByLogIn] = useState(false)
  const seconds = useSecondsUntil(lock.nextTryAt)
  useEffect(() => {
    document.title = 'Locked · Watchlamp'
  }, [])
  const unlock = async (event: FormEvent) => {
    event.preventDefault()
    setBusy(true)
    const now = Date.now()
    // Written first: the moment it opens, somebody is here.
    noteActivity(now, true)
    await tryPin(store, pin, now)
    setPin('')
    setBusy(false)
  }
  if (isSpent(lock) || byLogIn) {
    return (
      <main className={css.screen}>
        <h1>Log in to open it</h1>
        {isSpent(lock) && <p className="fault">The PIN was wrong {MOST_WRONG} times.</p>}
        <p>
          What you typed is safe on this device. Logging in needs a signal; then you can choose a new PIN.
        </p>
        <Suspense fallback={<p role="status">One moment…</p>}>
          <OpenByLogIn />
        </Suspense>
        {!isSpent(lock) && (
          <button type="button" className="press" data-look="quiet" onClick={() => setByLogIn(false)}>
            Back to the PIN
          </button>
        )}
      </main>
    )
  }
  return (
    <main className={css.screen}>
      <h1>Locked</h1>
      <form onSubmit={(event) => void unlock(event)} className={css.form}>
        <label htmlFor="pin">PIN</label>
        <input
          id="pin"
          type="password"
          inputMode="numeric"
          autoComplete="off"
          maxLength={8}
          value={pin}
          autoFocus
          aria-describedby="pin-tries"
          onChange={(event) => setPin(event.target.value.replace(/\D/g, ''))}
        />
        <p id="pin-tries" role="status">
          {lock.wrong > 0 &&
            !busy &&
            `Wrong. ${MOST_WRONG - lock.wrong} more, then only logging in opens it.${seconds > 0 ? ` Wait ${seconds} s.` : ''}`}
        </p>
        <button
          type="submit"
          className="press"
          data-look="main"
          disabled={busy || seconds > 0 || pin.length < 4}
        >
          {busy ? 'One moment…' : 'Unlock'}
        </button>
      </form>
      <button type="button" className="press" data-look="quiet" onClick={() => setByLogIn(true)}>
        I do not know the PIN
      </button>
    </main>
  )
}

function useSecondsUntil(instant: number): number {
  const [now, setNow] = useState(Date.now())
  useEffect(() => {
    const tick = () => setNow(Date.now())
    tick()
    if (instant <= Date.now()) return
    const timer = setInterval(tick, 500)
    return () => clearInterval(timer)
  }, [instant])
  return Math.max(0, Math.ceil((instant - now) / 1000))
}
