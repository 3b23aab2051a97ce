import { type FormEvent, useState } from 'react'
import { store } from '../offline/use-field.ts'
import { noteActivity } from './activity.ts'
import { changeLock, removeLock, setLock, type Tried, tryPin } from './lock.ts'
import css from './lock.module.css'
import { pinFault } from './pin.ts'

export type PinAct = 'set' | 'change' | 'remove'

const NOT_OPEN: Readonly<Record<Exclude<Tried, 'open'>, string>> = {
  wrong: 'The present PIN is not right.',
  'too-soon': 'Too many wrong tries: wait a minute, then try again.',
  spent: 'The PIN was wrong too often: only logging in opens this screen now.',
}

/** Sets a PIN; to change it or take it away, the present one is asked for, and wrong tries count as at the lock itself. */
export function PinForm({
  act,
  afterMinutes,
  onDone,
}: {
  act: PinAct
  afterMinutes: number
  onDone: () => void
}) {
  const [present, setPresent] = useState('')
  const [pin, setPin] = useState('')
  const [again, setAgain] = useState('')
  const [fault, setFault] = useState<string | null>(null)
  const [busy, setBusy] = useState(false)
  const keep = async () => {
    if (act !== 'remove') {
      const wrong = pinFault(pin) ?? (pin === again ? null : 'The two are not the same.')
      if (wrong) return setFault(wrong)
    }
    if (act !== 'set') {
      const tried = await tryPin(store, present, Date.now())
      if (tried === 'spent') await changeLock(store, { isLocked: true })
      if (tried !== 'open') return setFault(NOT_OPEN[tried])
    }
    noteActivity(Date.now(), true)
    if (act === 'remove') await removeLock(store)
    else await setLock(store, pin, afterMinutes)
    onDone()
  }
  const submit = (event: FormEvent) => {
    event.preventDefault()
    setFault(null)
    setBusy(true)
    void keep().finally(() => setBusy(false))
  }
  return (
    <form className={css.form} onSubmit={submit}>
      {act !== 'set' && (
        <PinField id="present-pin" label="The present PIN" value={present} onChange={setPresent} />
      )}
      {act !== 'remove' && (
        <>
          <PinField id="new-pin" label="New PIN, four to eight digits" value={pin} onChange={setPin} />
          <PinField id="new-pin-again" label="The same PIN again" value={again} onChange={setAgain} />
        </>
      )}
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
          {busy ? 'One moment…' : act === 'remove' ? 'Take it away' : 'Keep this PIN'}
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
