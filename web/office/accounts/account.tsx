import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import { type FormEvent, useState } from 'react'
import type { SessionView, TokenView } from '../../../server/accounts/schema.ts'
import { ApiProblem, http } from '../../shared/api/http.ts'
import { formatInstant } from '../../shared/format.ts'
import { Button } from '../../shared/ui/button.tsx'
import { FieldRow, SelectField, TextField } from '../../shared/ui/fields.tsx'
import { Card, Page, Tag } from '../../shared/ui/page.tsx'
import { Empty, Failed, Fault, Waiting } from '../../shared/ui/states.tsx'
import { Table } from '../../shared/ui/table.tsx'
import { tell } from '../../shared/ui/toasts.tsx'
import { browserOf } from './browser-of.ts'

export function Account() {
  return (
    <Page title="Password and sessions">
      <Password />
      <Sessions />
      <Tokens />
    </Page>
  )
}

function Password() {
  const [current, setCurrent] = useState('')
  const [password, setPassword] = useState('')
  const change = useMutation({
    mutationFn: () => http.post('/me/password', { current, password }),
    onSuccess: () => {
      setCurrent('')
      setPassword('')
      tell('The new password counts from now on. Your other sessions were ended.')
    },
  })
  const submit = (event: FormEvent) => {
    event.preventDefault()
    change.mutate()
  }
  const fault = change.error instanceof ApiProblem ? change.error.faults.get('#/password') : undefined
  return (
    <Card title="Password">
      <form onSubmit={submit} style={{ display: 'grid', gap: 16 }}>
        <FieldRow>
          <TextField
            label="Present password"
            type="password"
            autoComplete="current-password"
            value={current}
            onChange={setCurrent}
            required
          />
          <TextField
            label="New password"
            type="password"
            autoComplete="new-password"
            value={password}
            onChange={setPassword}
            help="12 characters or more"
            fault={fault}
            required
          />
        </FieldRow>
        {!fault && <Fault error={change.error} />}
        <div>
          <Button type="submit" isPending={change.isPending}>
            Change password
          </Button>
        </div>
      </form>
    </Card>
  )
}

function Sessions() {
  const queryClient = useQueryClient()
  const sessions = useQuery({
    queryKey: ['sessions'],
    queryFn: () => http.get<SessionView[]>('/me/sessions'),
  })
  const end = useMutation({
    mutationFn: (id: string) => http.delete(`/me/sessions/${id}`),
    onSuccess: () => queryClient.invalidateQueries({ queryKey: ['sessions'] }),
  })
  return (
    <Card title="Where you are logged in">
      {sessions.isPending && <Waiting />}
      {sessions.isError && <Failed error={sessions.error} retry={() => void sessions.refetch()} />}
      {sessions.data && (
        <Table
          caption="Your sessions"
          rows={sessions.data}
          rowKey={(each) => each.id}
          columns={[
            { name: 'Browser', cell: (each) => browserOf(each.userAgent) },
            { name: 'Address', cell: (each) => each.ip },
            { name: 'Last used', cell: (each) => formatInstant(each.lastSeenAt) },
            {
              name: 'End',
              right: true,
              cell: (each) =>
                each.current ? (
                  <Tag tone="good">This one</Tag>
                ) : (
                  <Button small onPress={() => end.mutate(each.id)}>
                    End session
                  </Button>
                ),
            },
          ]}
        />
      )}
    </Card>
  )
}

function Tokens() {
  const queryClient = useQueryClient()
  const [name, setName] = useState('')
  const [days, setDays] = useState('90')
  const tokens = useQuery({ queryKey: ['tokens'], queryFn: () => http.get<TokenView[]>('/me/tokens') })
  const refresh = () => queryClient.invalidateQueries({ queryKey: ['tokens'] })
  const create = useMutation({
    mutationFn: () =>
      http.post<TokenView & { token: string }>('/me/tokens', {
        name,
        expiresInDays: days ? Number(days) : null,
      }),
    onSuccess: () => {
      setName('')
      void refresh()
    },
  })
  const revoke = useMutation({
    mutationFn: (id: string) => http.delete(`/me/tokens/${id}`),
    onSuccess: refresh,
  })
  const submit = (event: FormEvent) => {
    event.preventDefault()
    create.mutate()
  }
  return (
    <Card title="Tokens for programs">
      <p>
        A token lets a program act as you: a spreadsheet that reads the visits, say. The API is described at{' '}
        <a href="/api/docs">/api/docs</a>.
      </p>
      {tokens.isError && <Failed error={tokens.error} retry={() => void tokens.refetch()} />}
      {tokens.data?.length === 0 && <Empty title="You have no tokens." />}
      {!!tokens.data?.length && (
        <Table
          caption="Your tokens"
          rows={tokens.data}
          rowKey={(each) => each.id}
          columns={[
            { name: 'Name', cell: (each) => each.name },
            { name: 'Begins with', cell: (each) => <code>{each.prefix}</code> },
            {
              name: 'Last used',
              cell: (each) => (each.lastUsedAt ? formatInstant(each.lastUsedAt) : 'Never'),
            },
            { name: 'Ends', cell: (each) => (each.expiresAt ? formatInstant(each.expiresAt) : 'Never') },
            {
              name: 'Revoke',
              right: true,
              cell: (each) => (
                <Button small onPress={() => revoke.mutate(each.id)}>
                  Revoke
                </Button>
              ),
            },
          ]}
        />
      )}
      {create.data && (
        <p role="status">
          Copy it now; it is not shown again:{' '}
          <code style={{ overflowWrap: 'anywhere' }}>{create.data.token}</code>
        </p>
      )}
      <form onSubmit={submit} style={{ display: 'grid', gap: 16 }}>
        <FieldRow>
          <TextField label="What it is for" value={name} onChange={setName} required maxLength={80} />
          <SelectField
            label="Works for"
            value={days}
            onChange={setDays}
            options={{ '30': '30 days', '90': '90 days', '365': 'One year', '': 'Until revoked' }}
          />
        </FieldRow>
        <Fault error={create.error} />
        <div>
          <Button type="submit" isPending={create.isPending}>
            Make a token
          </Button>
        </div>
      </form>
    </Card>
  )
}
