import { useMutation, useQueryClient } from '@tanstack/react-query'
import { Link, useNavigate, useSearch } from '@tanstack/react-router'
import { type FormEvent, useEffect, useState } from 'react'
import type { MeView } from '../../../server/accounts/schema.ts'
import { http } from '../../shared/api/http.ts'
import { meQuery } from '../../shared/api/me.ts'
import { Button } from '../../shared/ui/button.tsx'
import { TextField } from '../../shared/ui/fields.tsx'
import { Fault } from '../../shared/ui/states.tsx'
import css from './accounts.module.css'

export function LogIn() {
  const queryClient = useQueryClient()
  const navigate = useNavigate()
  const { to } = useSearch({ strict: false }) as { to?: string }
  const [email, setEmail] = useState('')
  const [password, setPassword] = useState('')
  useEffect(() => {
    document.title = 'Log in · Watchlamp'
  }, [])
  const logIn = useMutation({
    mutationFn: async () => {
      await http.post('/log-in', { email, password })
      queryClient.clear()
      return queryClient.fetchQuery(meQuery)
    },
    onSuccess: (me: MeView) => {
      if (me.role === 'technician') window.location.assign('/field/')
      else void navigate({ to: to?.startsWith('/') && !to.startsWith('//') ? to : '/today' })
    },
  })
  const submit = (event: FormEvent) => {
    event.preventDefault()
    logIn.mutate()
  }
  return (
    <main className={css.alone}>
      <form className={css.card} onSubmit={submit}>
        <img src="/lamp.svg" alt="" width="44" height="44" />
        <h1>Log in</h1>
        <TextField
          label="E-mail"
          type="email"
          autoComplete="username"
          value={email}
          onChange={setEmail}
          required
          autoFocus
        />
        <TextField
          label="Password"
          type="password"
          autoComplete="current-password"
          value={password}
          onChange={setPassword}
          required
        />
        <Fault error={logIn.error} />
        <Button look="main" type="submit" isPending={logIn.isPending}>
          Log in
        </Button>
        <Link to="/forgotten-password">Forgotten password</Link>
      </form>
    </main>
  )
}
