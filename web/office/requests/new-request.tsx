import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import { useNavigate } from '@tanstack/react-router'
import { type FormEvent, useState } from 'react'
import type { DuplicatesView } from '../../../server/customers/schema.ts'
import type { RequestView } from '../../../server/requests/schema.ts'
import type { JurisdictionView } from '../../../server/settings/schema.ts'
import { VISIT_KINDS, type VisitKind } from '../../../trade/visits.ts'
import { ApiProblem, http } from '../../shared/api/http.ts'
import { requestQueries } from '../../shared/api/visits.ts'
import { newId } from '../../shared/ids.ts'
import { Button } from '../../shared/ui/button.tsx'
import { Actions } from '../../shared/ui/dialog.tsx'
import { CheckField, FieldRow, SelectField, TextArea, TextField } from '../../shared/ui/fields.tsx'
import { Card, Page } from '../../shared/ui/page.tsx'
import { Fault } from '../../shared/ui/states.tsx'
import { tell } from '../../shared/ui/toasts.tsx'
import { useLater } from '../shell/use-later.ts'
import { Duplicates } from './duplicates.tsx'
import { emptyHome, type HomeDraft, HomeFields, homeOf } from './home-fields.tsx'

/** One telephone call on one page: who, where, why, when. What we know already is found while it is typed. */
export function NewRequest() {
  const navigate = useNavigate()
  const queryClient = useQueryClient()
  const [id] = useState(() => newId())
  const [name, setName] = useState('')
  const [phone, setPhone] = useState('')
  const [email, setEmail] = useState('')
  const [spanish, setSpanish] = useState(false)
  const [isFirm, setIsFirm] = useState(false)
  const [home, setHome] = useState<HomeDraft>(emptyHome)
  const [known, setKnown] = useState<{
    customer?: { id: string; name: string }
    property?: { id: string; line1: string }
  }>({})
  const [reason, setReason] = useState('')
  const [kind, setKind] = useState<VisitKind>('inspection')
  const [days, setDays] = useState(['', ''])
  const [time, setTime] = useState('')
  const [note, setNote] = useState('')
  const jurisdictions = useQuery({
    queryKey: ['jurisdictions'],
    queryFn: () => http.get<JurisdictionView[]>('/jurisdictions'),
  })

  const asked = useLater({ phone, email, line1: home.line1, postcode: home.postcode }, 350)
  const duplicates = useQuery({
    queryKey: ['customers', 'duplicates', asked],
    queryFn: () => http.get<DuplicatesView>('/customers/duplicates', asked),
    enabled: asked.phone.length >= 7 || asked.email.includes('@') || asked.line1.length >= 5,
  })

  const take = useMutation({
    mutationFn: () =>
      http.post<RequestView>('/requests', {
        id,
        ...(known.customer
          ? { customerId: known.customer.id }
          : {
              customer: {
                name,
                kind: isFirm ? 'firm' : 'person',
                phone: phone || null,
                email: email || null,
                language: spanish ? 'es' : 'en',
              },
            }),
        ...(known.property ? { propertyId: known.property.id } : { property: homeOf(home) }),
        kind,
        reason,
        preferredDays: days.filter(Boolean),
        preferredTime: time,
        note,
      }),
    onSuccess: (request) => {
      void queryClient.invalidateQueries({ queryKey: requestQueries.all() })
      tell(`${request.line1} waits for a day. Book it from Today.`)
      void navigate({ to: '/today' })
    },
  })
  const fault = (pointer: string) =>
    take.error instanceof ApiProblem ? take.error.faults.get(pointer) : undefined
  const submit = (event: FormEvent) => {
    event.preventDefault()
    take.mutate()
  }
  return (
    <Page
      title="Take a request"
      under="Only the name, the address and the reason are needed; the rest can wait"
    >
      <form onSubmit={submit} style={{ display: 'grid', gap: 20 }}>
        <Card title="Who">
          {known.customer ? (
            <p>
              <strong>{known.customer.name}</strong>, on record.{' '}
              <Button small look="quiet" onPress={() => setKnown(({ customer: _, ...rest }) => rest)}>
                Somebody else
              </Button>
            </p>
          ) : (
            <>
              <FieldRow>
                <TextField
                  label="Name"
                  value={name}
                  onChange={setName}
                  fault={fault('#/customer/name')}
                  autoComplete="off"
                  required
                  autoFocus
                />
                <TextField
                  label="Phone"
                  type="tel"
                  value={phone}
                  onChange={setPhone}
                  fault={fault('#/customer/phone')}
                  autoComplete="off"
                />
                <TextField
                  label="E-mail"
                  type="email"
                  value={email}
                  onChange={setEmail}
                  fault={fault('#/customer/email')}
                  autoComplete="off"
                  help="For the confirmation, the report and reminders"
                />
              </FieldRow>
              <FieldRow>
                <CheckField label="Prefers Spanish" checked={spanish} onChange={setSpanish} />
                <CheckField label="A firm, not a person" checked={isFirm} onChange={setIsFirm} />
              </FieldRow>
            </>
          )}
          <Duplicates
            found={duplicates.data}
            onCustomer={known.customer ? undefined : (customer) => setKnown((now) => ({ ...now, customer }))}
          />
        </Card>
        <Card title="Where">
          {known.property ? (
            <p>
              <strong>{known.property.line1}</strong>, on record.{' '}
              <Button small look="quiet" onPress={() => setKnown(({ property: _, ...rest }) => rest)}>
                Another home
              </Button>
            </p>
          ) : (
            <HomeFields
              home={home}
              onChange={setHome}
              jurisdictions={jurisdictions.data ?? []}
              fault={fault}
            />
          )}
          <Duplicates
            found={duplicates.data}
            onProperty={known.property ? undefined : (property) => setKnown((now) => ({ ...now, property }))}
          />
        </Card>
        <Card title="Why and when">
          <FieldRow>
            <TextField
              label="Reason"
              value={reason}
              onChange={setReason}
              fault={fault('#/reason')}
              maxLength={500}
              required
            />
            <SelectField
              label="What for"
              value={kind}
              onChange={(value) => setKind(value as VisitKind)}
              options={VISIT_KINDS}
            />
          </FieldRow>
          <FieldRow>
            <TextField
              label="Preferred day"
              type="date"
              value={days[0]!}
              onChange={(day) => setDays([day, days[1]!])}
              fault={fault('#/preferredDays/0')}
            />
            <TextField
              label="or"
              type="date"
              value={days[1]!}
              onChange={(day) => setDays([days[0]!, day])}
              fault={fault('#/preferredDays/1')}
            />
            <TextField
              label="Time of day"
              value={time}
              onChange={setTime}
              maxLength={60}
              help="Mornings, after 3 PM …"
            />
          </FieldRow>
          <TextArea label="Note" value={note} onChange={setNote} rows={2} maxLength={2000} />
        </Card>
        <Fault error={take.error} />
        <Actions>
          <Button type="submit" look="main" isPending={take.isPending}>
            Keep the request
          </Button>
        </Actions>
      </form>
    </Page>
  )
}
