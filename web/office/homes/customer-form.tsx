import { useMutation, useQueryClient } from '@tanstack/react-query'
import { type FormEvent, useState } from 'react'
import type { CustomerView } from '../../../server/customers/schema.ts'
import { customerQueries } from '../../shared/api/homes.ts'
import { ApiProblem, http } from '../../shared/api/http.ts'
import { Button } from '../../shared/ui/button.tsx'
import { Actions } from '../../shared/ui/dialog.tsx'
import { FieldRow, SelectField, TextArea, TextField } from '../../shared/ui/fields.tsx'
import { Fault } from '../../shared/ui/states.tsx'
import { tell } from '../../shared/ui/toasts.tsx'

export function CustomerForm({ customer, onDone }: { customer: CustomerView; onDone: () => void }) {
  const queryClient = useQueryClient()
  const [draft, setDraft] = useState({
    name: customer.name,
    phone: customer.phone ?? '',
    secondPhone: customer.secondPhone ?? '',
    email: customer.email ?? '',
    language: customer.language as string,
    notes: customer.notes,
  })
  // Against another person's change: the version that was seen when the form was opened.
  const [seen, setSeen] = useState(customer.version)
  const save = useMutation({
    mutationFn: () =>
      http.patch(`/customers/${customer.id}`, seen, {
        ...draft,
        phone: draft.phone || null,
        secondPhone: draft.secondPhone || null,
        email: draft.email || null,
      }),
    onSuccess: () => {
      void queryClient.invalidateQueries({ queryKey: customerQueries.all() })
      tell(`${draft.name} is saved.`)
      onDone()
    },
  })
  const conflict =
    save.error instanceof ApiProblem && save.error.type === 'changed-meanwhile'
      ? (save.error.body['current'] as CustomerView)
      : null
  const fault = (pointer: string) =>
    save.error instanceof ApiProblem ? save.error.faults.get(pointer) : undefined
  const field = (name: keyof typeof draft) => ({
    value: draft[name],
    onChange: (value: string) => setDraft((before) => ({ ...before, [name]: value })),
    fault: fault(`#/${name}`),
  })
  const submit = (event: FormEvent) => {
    event.preventDefault()
    save.mutate()
  }
  return (
    <form onSubmit={submit} style={{ display: 'grid', gap: 16 }}>
      <TextField label="Name" {...field('name')} required />
      <FieldRow>
        <TextField label="Phone" type="tel" {...field('phone')} />
        <TextField label="Second phone" type="tel" {...field('secondPhone')} />
      </FieldRow>
      <FieldRow>
        <TextField label="E-mail" type="email" {...field('email')} />
        <SelectField label="Language" {...field('language')} options={{ en: 'English', es: 'Spanish' }} />
      </FieldRow>
      <TextArea label="Notes" {...field('notes')} maxLength={4000} />
      {conflict ? (
        <div role="alert" style={{ display: 'grid', gap: 8 }}>
          <p>
            Somebody changed this meanwhile: {conflict.name}, {conflict.phone ?? 'no phone'},{' '}
            {conflict.email ?? 'no e-mail'}. Choose which to keep.
          </p>
          <Actions>
            <Button onPress={onDone}>Keep theirs</Button>
            <Button
              onPress={() => {
                setSeen(conflict.version)
                save.reset()
              }}
            >
              Keep mine: save again
            </Button>
          </Actions>
        </div>
      ) : (
        <>
          <Fault error={save.error} />
          <Actions>
            <Button look="main" type="submit" isPending={save.isPending}>
              Save
            </Button>
          </Actions>
        </>
      )}
    </form>
  )
}
