import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import { type FormEvent, useState } from 'react'
import type { SurgePreview } from '../../../server/follow-ups/surge-event-schema.ts'
import { dueQueries } from '../../shared/api/due.ts'
import { homeQueries } from '../../shared/api/homes.ts'
import { http } from '../../shared/api/http.ts'
import { meQuery } from '../../shared/api/me.ts'
import { Button } from '../../shared/ui/button.tsx'
import { Actions, Dialog } from '../../shared/ui/dialog.tsx'
import { FieldRow, SelectField, TextField } from '../../shared/ui/fields.tsx'
import { Fault } from '../../shared/ui/states.tsx'
import { tell } from '../../shared/ui/toasts.tsx'
import css from './due.module.css'

const KINDS = { storm: 'A storm', utility: 'A fault of the utility' } as const

/** Opens the form: for a town, or for one home where its id is given. */
export function SurgeEventButton({ propertyId, small = false }: { propertyId?: string; small?: boolean }) {
  const [isOpen, setOpen] = useState(false)
  return (
    <>
      <Button small={small} onPress={() => setOpen(true)}>
        A storm or surge came through…
      </Button>
      <Dialog title="A storm or surge came through" isOpen={isOpen} onClose={() => setOpen(false)}>
        <SurgeEvent propertyId={propertyId} onDone={() => setOpen(false)} />
      </Dialog>
    </>
  )
}

/** When and where: shown whom it concerns and how many letters go out before anything is done. */
function SurgeEvent({ propertyId, onDone }: { propertyId: string | undefined; onDone: () => void }) {
  const queryClient = useQueryClient()
  const { data: me } = useQuery(meQuery)
  const [form, setForm] = useState({ kind: 'storm', on: '', city: '', street: '' })
  const [typed, setTyped] = useState('')
  const { city, street, ...event } = form
  const where = propertyId ? { propertyId } : { city, ...(street.trim() && { street }) }
  const isWhole = form.on !== '' && (propertyId !== undefined || city.trim() !== '')
  const count = useMutation({
    mutationFn: () => http.post<SurgePreview>('/follow-ups/surge-event/preview', { ...event, ...where }),
  })
  const confirm = count.data?.confirm ?? null
  const record = useMutation({
    mutationFn: () =>
      http.post<{ opened: number }>('/follow-ups/surge-event', {
        ...event,
        ...where,
        ...(confirm !== null && { confirmMessages: confirm }),
      }),
    onSuccess: ({ opened }) => {
      void queryClient.invalidateQueries({ queryKey: dueQueries.all() })
      void queryClient.invalidateQueries({ queryKey: homeQueries.all() })
      tell(opened === 1 ? 'One protector is to be looked at.' : `${opened} protectors are to be looked at.`)
      onDone()
    },
  })
  const set = (name: keyof typeof form) => (value: string) => {
    setForm((before) => ({ ...before, [name]: value }))
    setTyped('')
    count.reset()
    record.reset()
  }
  const submit = (press: FormEvent) => {
    press.preventDefault()
    if (isWhole) count.mutate()
  }
  return (
    <form onSubmit={submit} className={css.opened}>
      <p>Surge protectors may have used themselves up. Their owners are asked to look at the indicator.</p>
      <FieldRow>
        <SelectField label="What it was" value={form.kind} onChange={set('kind')} options={KINDS} />
        <TextField
          label="Day"
          type="date"
          value={form.on}
          onChange={set('on')}
          max={me?.today ?? ''}
          required
        />
      </FieldRow>
      {!propertyId && (
        <FieldRow>
          <TextField label="Town" value={city} onChange={set('city')} maxLength={100} required />
          <TextField
            label="Street"
            value={street}
            onChange={set('street')}
            maxLength={100}
            help="Empty: the whole town"
          />
        </FieldRow>
      )}
      {count.data && <Concerned {...count.data} isOneHome={propertyId !== undefined} />}
      {confirm !== null && (
        <TextField
          label={`Type ${confirm} to say that so many letters may go out`}
          inputMode="numeric"
          value={typed}
          onChange={setTyped}
        />
      )}
      <Fault error={count.error ?? record.error} />
      <Actions>
        {count.data ? (
          <Button
            look={confirm === null ? 'main' : 'danger'}
            onPress={() => record.mutate()}
            isDisabled={count.data.protectors === 0 || (confirm !== null && typed.trim() !== String(confirm))}
            isPending={record.isPending}
          >
            Have them looked at
          </Button>
        ) : (
          <Button look="main" type="submit" isDisabled={!isWhole} isPending={count.isPending}>
            Show whom it concerns
          </Button>
        )}
      </Actions>
    </form>
  )
}

const some = (count: number, one: string, many: string) =>
  `${count === 0 ? 'no' : count} ${count === 1 ? one : many}`

function Concerned({
  homesThere,
  homes,
  protectors,
  moved,
  letters,
  isOneHome,
}: SurgePreview & { isOneHome: boolean }) {
  if (homesThere === 0)
    return <p role="status">No home on record lies there. Is the town spelled like this?</p>
  if (protectors === 0) {
    return (
      <p role="status">
        {isOneHome ? 'Nothing to look at here' : 'Nothing to look at there'}: no protector that was in place
        that day and has not been looked at or asked about since.
      </p>
    )
  }
  return (
    <div role="status">
      <p>
        It concerns {some(protectors, 'protector', 'protectors')} in {some(homes, 'home', 'homes')};{' '}
        {some(letters, 'letter goes out', 'letters go out')}.
      </p>
      {moved > 0 && (
        <p>
          {some(moved, 'protector was', 'protectors were')} asked about after an earlier event; the newer one
          takes its place.
        </p>
      )}
      <p>
        One letter per household. None to people without e-mail, to those who want no such mail, and where a
        visit is booked.
      </p>
    </div>
  )
}
