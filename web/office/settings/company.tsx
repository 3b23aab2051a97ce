import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import { type FormEvent, useState } from 'react'
import type { CompanyView } from '../../../server/settings/schema.ts'
import { ApiProblem, http } from '../../shared/api/http.ts'
import { Button } from '../../shared/ui/button.tsx'
import { FieldRow, TextArea, TextField } from '../../shared/ui/fields.tsx'
import { Card } from '../../shared/ui/page.tsx'
import { Failed, Fault, Waiting } from '../../shared/ui/states.tsx'
import { tell } from '../../shared/ui/toasts.tsx'

const companyQuery = { queryKey: ['company'] as const, queryFn: () => http.get<CompanyView>('/company') }

/** What stands at the head of every letter, report and page that homeowners see. */
export function CompanySettings() {
  const company = useQuery(companyQuery)
  return (
    <Card title="Company">
      {company.isPending && <Waiting />}
      {company.isError && <Failed error={company.error} retry={() => void company.refetch()} />}
      {company.data && <CompanyForm key={company.data.version} company={company.data} />}
    </Card>
  )
}

function CompanyForm({ company }: { company: CompanyView }) {
  const queryClient = useQueryClient()
  const [name, setName] = useState(company.name)
  const [phone, setPhone] = useState(company.phone)
  const [email, setEmail] = useState(company.email)
  const [timeZone, setTimeZone] = useState(company.timeZone)
  const [address, setAddress] = useState(company.addressLines.join('\n'))
  const save = useMutation({
    mutationFn: () =>
      http.patch<CompanyView>('/company', company.version, {
        name,
        phone,
        email,
        timeZone,
        addressLines: address
          .split('\n')
          .map((line) => line.trim())
          .filter(Boolean),
      }),
    onSuccess: async () => {
      await queryClient.invalidateQueries(companyQuery)
      await queryClient.invalidateQueries({ queryKey: ['me'] })
      tell('The company’s data is saved.')
    },
  })
  const submit = (event: FormEvent) => {
    event.preventDefault()
    save.mutate()
  }
  const fault = (pointer: string) =>
    save.error instanceof ApiProblem ? save.error.faults.get(pointer) : undefined
  return (
    <form onSubmit={submit} style={{ display: 'grid', gap: 16 }}>
      <FieldRow>
        <TextField label="Name" value={name} onChange={setName} fault={fault('#/name')} required />
        <TextField
          label="Phone"
          type="tel"
          value={phone}
          onChange={setPhone}
          fault={fault('#/phone')}
          required
        />
        <TextField
          label="E-mail for answers"
          type="email"
          value={email}
          onChange={setEmail}
          fault={fault('#/email')}
          required
        />
      </FieldRow>
      <FieldRow>
        <TextArea
          label="Postal address"
          value={address}
          onChange={setAddress}
          fault={fault('#/addressLines')}
          help="Stands under every e-mail, as the law asks of reminders."
        />
        <TextField
          label="Time zone"
          value={timeZone}
          onChange={setTimeZone}
          fault={fault('#/timeZone')}
          help="Such as America/New_York. Each home has its own; this one counts for the office."
          required
        />
      </FieldRow>
      <Fault error={save.error} />
      <div>
        <Button look="main" type="submit" isPending={save.isPending}>
          Save
        </Button>
      </div>
    </form>
  )
}
