import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import { type FormEvent, useState } from 'react'
import type { PersonView } from '../../../server/people/schema.ts'
import { type Role, ROLES } from '../../../trade/permissions.ts'
import { ApiProblem, http } from '../../shared/api/http.ts'
import { meQuery } from '../../shared/api/me.ts'
import { formatInstant } from '../../shared/format.ts'
import { newId } from '../../shared/ids.ts'
import { Button } from '../../shared/ui/button.tsx'
import { Actions, Dialog } from '../../shared/ui/dialog.tsx'
import { FieldRow, SelectField, TextField } from '../../shared/ui/fields.tsx'
import { Page, Tag } from '../../shared/ui/page.tsx'
import { Failed, Fault, Waiting } from '../../shared/ui/states.tsx'
import { Table } from '../../shared/ui/table.tsx'
import { tell } from '../../shared/ui/toasts.tsx'
import { Devices } from './devices.tsx'

const peopleQuery = { queryKey: ['people'] as const, queryFn: () => http.get<PersonView[]>('/people') }

/** Staff: who may come in, as what. */
export function People() {
  const people = useQuery(peopleQuery)
  const me = useQuery(meQuery)
  const [inviting, setInviting] = useState(false)
  const [changing, setChanging] = useState<PersonView | null>(null)
  const [devicesOf, setDevicesOf] = useState<PersonView | null>(null)
  return (
    <Page
      title="People"
      under="Everybody of the company who logs in here"
      actions={
        <Button look="main" onPress={() => setInviting(true)}>
          Invite somebody
        </Button>
      }
    >
      {people.isPending && <Waiting />}
      {people.isError && <Failed error={people.error} retry={() => void people.refetch()} />}
      {people.data && (
        <Table
          caption="People"
          rows={people.data}
          rowKey={(each) => each.id}
          columns={[
            { name: 'Name', cell: (each) => each.name + (each.id === me.data?.id ? ' (you)' : '') },
            { name: 'Role', cell: (each) => ROLES[each.role] },
            { name: 'E-mail', cell: (each) => each.email },
            { name: 'Phone', cell: (each) => each.phone },
            { name: 'Last here', cell: (each) => (each.lastSeenAt ? formatInstant(each.lastSeenAt) : null) },
            { name: 'State', cell: (each) => <State person={each} /> },
            {
              name: 'Devices',
              cell: (each) => (
                <Button small onPress={() => setDevicesOf(each)} aria-label={`Devices of ${each.name}`}>
                  Devices
                </Button>
              ),
            },
            {
              name: 'Change',
              right: true,
              cell: (each) => (
                <Button small onPress={() => setChanging(each)} aria-label={`Change ${each.name}`}>
                  Change
                </Button>
              ),
            },
          ]}
        />
      )}
      <Dialog title="Invite somebody" isOpen={inviting} onClose={() => setInviting(false)}>
        <Invite onDone={() => setInviting(false)} />
      </Dialog>
      <Dialog
        title={`Change ${changing?.name ?? ''}`}
        isOpen={changing !== null}
        onClose={() => setChanging(null)}
      >
        {changing && <Change person={changing} onDone={() => setChanging(null)} />}
      </Dialog>
      <Dialog
        title={`Devices of ${devicesOf?.name ?? ''}`}
        isOpen={devicesOf !== null}
        onClose={() => setDevicesOf(null)}
        wide
      >
        {devicesOf && <Devices person={devicesOf} />}
      </Dialog>
    </Page>
  )
}

function State({ person }: { person: PersonView }) {
  if (person.disabled) return <Tag>Shut out</Tag>
  if (person.invited) return <Tag tone="lamp">Invited</Tag>
  if (person.lockedUntil) return <Tag tone="bad">Resting after wrong passwords</Tag>
  return <Tag tone="good">Active</Tag>
}

interface Invited {
  person: PersonView
  link: string
  sent: boolean
}

function Invite({ onDone }: { onDone: () => void }) {
  const queryClient = useQueryClient()
  const [id] = useState(() => newId())
  const [name, setName] = useState('')
  const [email, setEmail] = useState('')
  const [phone, setPhone] = useState('')
  const [role, setRole] = useState<Role>('technician')
  const invite = useMutation({
    mutationFn: () => http.post<Invited>('/people', { id, name, email, phone: phone || null, role }),
    onSuccess: () => queryClient.invalidateQueries(peopleQuery),
  })
  if (invite.data) return <InvitationSent invited={invite.data} onDone={onDone} />
  const fault = (pointer: string) =>
    invite.error instanceof ApiProblem ? invite.error.faults.get(pointer) : undefined
  const submit = (event: FormEvent) => {
    event.preventDefault()
    invite.mutate()
  }
  return (
    <form onSubmit={submit} style={{ display: 'grid', gap: 16 }}>
      <TextField label="Name" value={name} onChange={setName} fault={fault('#/name')} required />
      <FieldRow>
        <TextField
          label="E-mail"
          type="email"
          value={email}
          onChange={setEmail}
          fault={fault('#/email')}
          required
        />
        <TextField label="Phone" type="tel" value={phone} onChange={setPhone} fault={fault('#/phone')} />
      </FieldRow>
      <SelectField label="Role" value={role} onChange={(value) => setRole(value as Role)} options={ROLES} />
      <Fault error={invite.error} />
      <Actions>
        <Button look="main" type="submit" isPending={invite.isPending}>
          Send the invitation
        </Button>
      </Actions>
    </form>
  )
}

function InvitationSent({ invited, onDone }: { invited: Invited; onDone: () => void }) {
  return (
    <>
      <p role="status">
        An invitation is on its way to {invited.person.email}. If no letter arrives, hand this link over
        yourself; it works once, for seven days:
      </p>
      <code style={{ overflowWrap: 'anywhere' }}>{invited.link}</code>
      <Actions>
        <Button onPress={() => void navigator.clipboard?.writeText(invited.link)}>Copy the link</Button>
        <Button look="main" onPress={onDone}>
          Done
        </Button>
      </Actions>
    </>
  )
}

function Change({ person, onDone }: { person: PersonView; onDone: () => void }) {
  const queryClient = useQueryClient()
  const [name, setName] = useState(person.name)
  const [phone, setPhone] = useState(person.phone ?? '')
  const [role, setRole] = useState(person.role)
  const refresh = () => queryClient.invalidateQueries(peopleQuery)
  const change = useMutation({
    mutationFn: (more: { disabled?: boolean }) =>
      http.patch<PersonView>(`/people/${person.id}`, person.version, {
        name,
        phone: phone || null,
        role,
        ...more,
      }),
    onSuccess: (after) => {
      void refresh()
      tell(
        after.disabled ? `${after.name} is shut out; open sessions were ended.` : `${after.name} is saved.`,
      )
      onDone()
    },
  })
  const again = useMutation({ mutationFn: () => http.post<Invited>(`/people/${person.id}/invitation`) })
  if (again.data) return <InvitationSent invited={again.data} onDone={onDone} />
  const fault = (pointer: string) =>
    change.error instanceof ApiProblem ? change.error.faults.get(pointer) : undefined
  const submit = (event: FormEvent) => {
    event.preventDefault()
    change.mutate({})
  }
  return (
    <form onSubmit={submit} style={{ display: 'grid', gap: 16 }}>
      <TextField label="Name" value={name} onChange={setName} fault={fault('#/name')} required />
      <FieldRow>
        <TextField label="Phone" type="tel" value={phone} onChange={setPhone} fault={fault('#/phone')} />
        <SelectField
          label="Role"
          value={role}
          onChange={(value) => setRole(value as Role)}
          options={ROLES}
          fault={fault('#/role')}
          help="Another role ends their open sessions."
        />
      </FieldRow>
      <Fault error={again.error ?? change.error} />
      <Actions>
        {person.invited && <Button onPress={() => again.mutate()}>Send the invitation again</Button>}
        <Button
          look={person.disabled ? 'plain' : 'danger'}
          onPress={() => change.mutate({ disabled: !person.disabled })}
        >
          {person.disabled ? 'Let in again' : 'Shut out'}
        </Button>
        <Button look="main" type="submit" isPending={change.isPending}>
          Save
        </Button>
      </Actions>
    </form>
  )
}
