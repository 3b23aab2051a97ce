import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import { Link, useSearch } from '@tanstack/react-router'
import { type FormEvent, useState } from 'react'
import { ApiProblem, http } from '../../shared/api/http.ts'
import { meQuery } from '../../shared/api/me.ts'
import { Button } from '../../shared/ui/button.tsx'
import { TextField } from '../../shared/ui/fields.tsx'
import { Fault, Waiting } from '../../shared/ui/states.tsx'
import css from './accounts.module.css'

/** Where the link of an invitation, a reset or the first set-up leads: choose a password, and be in. */
export function Welcome() {
  const { token } = useSearch({ strict: false }) as { token?: string }
  const queryClient = useQueryClient()
  const [password, setPassword] = useState('')
  const link = useQuery({
    queryKey: ['staff-link', token],
    queryFn: () => http.get<{ email: string; name: string; purpose: string }>('/staff-link', { token }),
    retry: false,
  })
  const choose = useMutation({
    mutationFn: async () => {
      await http.post('/staff-link', { token, password })
      return queryClient.fetchQuery(meQuery)
    },
    onSuccess: (me) => window.location.assign(me.role === 'technician' ? '/field/' : '/today'),
  })
  const submit = (event: FormEvent) => {
    event.preventDefault()
    choose.mutate()
  }
  const fault = choose.error instanceof ApiProblem ? choose.error.faults.get('#/password') : undefined
  return (
    <main className={css.alone}>
      <form className={css.card} onSubmit={submit}>
        <img src="/lamp.svg" alt="" width="44" height="44" />
        <h1>{link.data?.purpose === 'password-reset' ? 'A new password' : 'Welcome'}</h1>
        {link.isPending && <Waiting />}
        {link.isError && (
          <>
            <Fault error={link.error} />
            <Link to="/log-in">To the log-in</Link>
          </>
        )}
        {link.data && (
          <>
            <p>
              {link.data.name}, you log in as <strong>{link.data.email}</strong>. Choose a password of 12
              characters or more; a few words in a row are good.
            </p>
            <input type="email" autoComplete="username" value={link.data.email} readOnly hidden />
            <TextField
              label="New password"
              type="password"
              autoComplete="new-password"
              value={password}
              onChange={setPassword}
              fault={fault}
              required
            />
            {!fault && <Fault error={choose.error} />}
            <Button look="main" type="submit" isPending={choose.isPending}>
              Save and go in
            </Button>
          </>
        )}
      </form>
    </main>
  )
}
