import { useMutation } from '@tanstack/react-query'
import { Link } from '@tanstack/react-router'
import { type FormEvent, useState } from 'react'
import { http } from '../../shared/api/http.ts'
import { Button } from '../../shared/ui/button.tsx'
import { TextField } from '../../shared/ui/fields.tsx'
import { Fault } from '../../shared/ui/states.tsx'
import css from './accounts.module.css'

export function Forgotten() {
  const [email, setEmail] = useState('')
  const ask = useMutation({ mutationFn: () => http.post('/forgotten-password', { email }) })
  const submit = (event: FormEvent) => {
    event.preventDefault()
    ask.mutate()
  }
  return (
    <main className={css.alone}>
      <form className={css.card} onSubmit={submit}>
        <h1>Forgotten password</h1>
        {ask.isSuccess ? (
          <p role="status">
            If {email} belongs to somebody here, a letter with a link is on its way. The link works for two
            hours.
          </p>
        ) : (
          <>
            <TextField
              label="E-mail"
              type="email"
              autoComplete="username"
              value={email}
              onChange={setEmail}
              required
            />
            <Fault error={ask.error} />
            <Button look="main" type="submit" isPending={ask.isPending}>
              Send me a link
            </Button>
          </>
        )}
        <Link to="/log-in">Back to log in</Link>
      </form>
    </main>
  )
}
