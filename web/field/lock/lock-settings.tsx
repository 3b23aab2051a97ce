import { useState } from 'react'
import { store } from '../offline/use-field.ts'
import { changeLock, MINUTES } from './lock.ts'
import { LockButton, useLock } from './lock-gate.tsx'
import { PinForm, type PinAct } from './pin-form.tsx'

const WORDS: Readonly<Record<number, string>> = {
  1: '1 minute',
  5: '5 minutes',
  15: '15 minutes',
  60: '1 hour',
}

/** A PIN for this device's screen: set, changed, taken away. What it does not do is said, too. */
export function LockSettings() {
  const lock = useLock()
  const [doing, setDoing] = useState<PinAct | null>(null)
  if (lock === undefined) return null
  return (
    <section className="box">
      <h2>PIN for this screen</h2>
      <p>
        {lock
          ? 'This screen locks by itself, and by a tap on “Lock”. The PIN also works without signal.'
          : 'Without a PIN, whoever holds this device unlocked can read your visits.'}
      </p>
      {lock && (
        <>
          <div className="row" role="group" aria-label="Locks when nobody touched it for">
            {MINUTES.map((minutes) => (
              <button
                key={minutes}
                type="button"
                className="press"
                aria-pressed={lock.afterMinutes === minutes}
                onClick={() => void changeLock(store, { afterMinutes: minutes })}
              >
                {WORDS[minutes]}
              </button>
            ))}
          </div>
          <LockButton />
        </>
      )}
      {doing ? (
        <PinForm
          key={doing}
          act={doing}
          afterMinutes={lock?.afterMinutes ?? 5}
          onDone={() => setDoing(null)}
        />
      ) : (
        <div className="row">
          <button type="button" className="press" onClick={() => setDoing(lock ? 'change' : 'set')}>
            {lock ? 'Change the PIN' : 'Set a PIN'}
          </button>
          {lock && (
            <button type="button" className="press" onClick={() => setDoing('remove')}>
              Take the PIN away
            </button>
          )}
        </div>
      )}
      <p className="soft">
        The PIN hides the screen. It does not encrypt what lies on this device: for that, use the lock and the
        encryption of the device itself.
      </p>
    </section>
  )
}
