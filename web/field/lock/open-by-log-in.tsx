import { type FormEvent, useState } from 'react'
import type { MeView } from '../../../server/accounts/schema.ts'
import { http } from '../../shared/api/http.ts'
import { TextField } from '../../shared/ui/fields.tsx'
import type { Day } from '../offline/store.ts'
import { store, syncing } from '../offline/use-field.ts'
import { noteActivity } from './activity.ts'
import { removeLock } from './lock.ts'
import css from './lock.module.css'

/** The office says who it is; only the one whose days lie on this device may open it. The old PIN is then forgotten. */
export function OpenByLogIn() {
  const [email, setEmail] = useState('')
  const [password, setPassword] = useState('')
  const [fault, setFault] = useState<string | null>(null)
  const [busy, setBusy] = useState(false)
  const logIn = async () => {
    await http.post('/log-in', { email, password })
    const me = await http.get<MeView>('/me')
    const owner = (await store.setting<Day>('day'))?.technician
    if (owner && owner.id !== me.id) {
      await http.post('/log-out')
      throw new Error(`The work on this device is ${owner.name}’s. Only they can open it.`)
    }
    noteActivity(Date.now(), true)
    await removeLock(store)
    void syncing.now()
  }
  const submit = (event: FormEvent) => {
    event.preventDefault()
    setBusy(true)
    setFault(null)
    logIn()
      .catch((error: unknown) =>
        setFault(error instanceof Error ? error.message : 'The office did not answer.'),
      )
      .finally(() => setBusy(false))
  }
  return (
    <form onSubmit={submit} className={css.form}>
      <TextField
        label="E-mail"
        type="email"
        autoComplete="username"
        value={email}
        onChange={setEmail}
        required
      />
      <TextField
        label="Password"
        type="password"
        autoComplete="current-password"
        value={password}
        onChange={setPassword}
        required
      />
      {fault && (
        <p className="fault" role="alert">
          {fault}
        </p>
      )}
      <button type="submit" className="press" data-look="main" disabled={busy}>
        Log in and open
      </button>
    </form>
  )
}
