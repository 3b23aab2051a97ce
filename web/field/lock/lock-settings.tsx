import { type FormEvent, useState } from 'react'
import { store } from '../offline/use-field.ts'
import { noteActivity } from './activity.ts'
import { changeLock, MINUTES, removeLock, setLock } from './lock.ts'
import { LockButton, useLock } from './lock-gate.tsx'
import css from './lock.module.css'
import { pinFault } from './pin.ts'

const WORDS: Readonly<Record<number, string>> = {
  1: '1 minute',
  5: '5 minutes',
  15: '15 minutes',
  60: '1 hour',
}

/** A PIN for this device's screen: set, changed, taken away. What it does not do is said, too. */
export function LockSettings() {
  const lock = useLock()
  const [isSetting, setIsSetting] = useState(false)
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
      {isSetting ? (
        <NewPin afterMinutes={lock?.afterMinutes ?? 5} onDone={() => setIsSetting(false)} />
      ) : (
        <div className="row">
          <button type="button" className="press" onClick={() => setIsSetting(true)}>
            {lock ? 'Change the PIN' : 'Set a PIN'}
          </button>
          {lock && (
            <button type="button" className="press" onClick={() => void removeLock(store)}>
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

function NewPin({ afterMinutes, onDone }: { afterMinutes: number; onDone: () => void }) {
  const [pin, setPin] = useState('')
  const [again, setAgain] = useState('')
  const [fault, setFault] = useState<string | null>(null)
  const [busy, setBusy] = useState(false)
  const submit = async (event: FormEvent) => {
    event.preventDefault()
    const wrong = pinFault(pin) ?? (pin === again ? null : 'The two are not the same.')
    setFault(wrong)
    if (wrong) return
    setBusy(true)
    noteActivity(Date.now(), true)
    await setLock(store, pin, afterMinutes)
    onDone()
  }
  return (
    <form className={css.form} onSubmit={(event) => void submit(event)}>
      <PinField id="new-pin" label="New PIN, four to eight digits" value={pin} onChange={setPin} />
      <PinField id="new-pin-again" label="The same PIN again" value={again} onChange={setAgain} />
      {fault && (
        <p className="fault" role="alert">
          {fault}
        </p>
      )}
      <div className="row">
        <button type="button" className="press" onClick={onDone}>
          Leave it
        </button>
        <button type="submit" className="press" data-look="main" disabled={busy}>
          {busy ? 'One moment…' : 'Keep this PIN'}
        </button>
      </div>
    </form>
  )
}

function PinField({
  id,
  label,
  value,
  onChange,
}: {
  id: string
  label: string
  value: string
  onChange: (value: string) => void
}) {
  return (
    <>
      <label htmlFor={id}>{label}</label>
      <input
        id={id}
        type="password"
        inputMode="numeric"
        autoComplete="off"
        maxLength={8}
        value={value}
        onChange={(event) => onChange(event.target.value.replace(/\D/g, ''))}
      />
    </>
  )
}
