import { useQuery } from '@tanstack/react-query'
import { Link, useParams } from '@tanstack/react-router'
import type { CustomerView } from '../../../server/customers/schema.ts'
import { VISIT_KINDS } from '../../../trade/visits.ts'
import { customerQueries } from '../../shared/api/homes.ts'
import { dayInZone, formatDay } from '../../shared/format.ts'
import { LANGUAGES } from '../../shared/languages.ts'
import { Button } from '../../shared/ui/button.tsx'
import { Dialog } from '../../shared/ui/dialog.tsx'
import { Card, Facts, Page, Tag } from '../../shared/ui/page.tsx'
import { Empty, Failed, Waiting } from '../../shared/ui/states.tsx'
import { Table } from '../../shared/ui/table.tsx'
import { Tel } from '../../shared/ui/tel.tsx'
import { type Aside, ASIDE_TAGS, WriteAgain } from '../messages/write-again.tsx'
import { PrivateLinks } from '../links/private-links.tsx'
import { VisitStateTag } from '../visits/visit-state.tsx'
import { useState } from 'react'
import { CustomerForm } from './customer-form.tsx'
import { CustomerPreferences } from './customer-preferences.tsx'

export function Customer() {
  const { id } = useParams({ strict: false }) as { id: string }
  const customer = useQuery(customerQueries.one(id))
  if (customer.isPending) return <Waiting />
  if (customer.isError) return <Failed error={customer.error} retry={() => void customer.refetch()} />
  return <CustomerPage customer={customer.data} />
}

function EmailPutAside({ aside }: { aside: Aside }) {
  return (
    <>
      <Tag tone="bad">{ASIDE_TAGS[aside.reason]}</Tag> <WriteAgain aside={aside} />
    </>
  )
}

function CustomerPage({ customer }: { customer: CustomerView }) {
  const [changing, setChanging] = useState(false)
  const { email, emailPutAside } = customer
  const aside = email && emailPutAside && { email, ...emailPutAside }
  return (
    <Page
      title={customer.name}
      under={customer.archivedAt ? 'Put away' : undefined}
      actions={<Button onPress={() => setChanging(true)}>Change</Button>}
    >
      <Card title={customer.kind === 'firm' ? 'Firm' : 'Person'}>
        <Facts
          facts={[
            ['Phone', customer.phone && <Tel number={customer.phone} />],
            ['Second phone', customer.secondPhone],
            ['E-mail', customer.email && <a href={`mailto:${customer.email}`}>{customer.email}</a>],
            ['E-mail put aside', aside && <EmailPutAside aside={aside} />],
            ['Language', LANGUAGES[customer.language]],
            ['Postal address', customer.addressLines.join(', ') || null],
            ['Messages sent', customer.messages.total],
          ]}
        />
        {customer.notes && <p>{customer.notes}</p>}
      </Card>
      <Card title="Homes">
        {customer.homes.length === 0 ? (
          <Empty title="No home is on record." />
        ) : (
          <Table
            caption="Homes"
            rows={customer.homes}
            rowKey={(each) => each.propertyId}
            columns={[
              {
                name: 'Address',
                cell: (each) => (
                  <Link to="/homes/$id" params={{ id: each.propertyId }}>
                    {each.line1}
                  </Link>
                ),
              },
              { name: 'Town', cell: (each) => `${each.city} ${each.postcode}` },
              { name: 'As', cell: (each) => each.roles.join(', ') },
              {
                name: 'Now',
                cell: (each) => (each.current ? (each.isContact ? 'Gets the messages' : 'Yes') : 'No longer'),
              },
            ]}
          />
        )}
      </Card>
      <Card title="Visits">
        {customer.visits.length === 0 ? (
          <Empty title="No visit yet." />
        ) : (
          <Table
            caption="Visits"
            rows={customer.visits}
            rowKey={(each) => each.id}
            columns={[
              {
                name: 'Day',
                cell: (each) => (
                  <Link to="/visits/$id" params={{ id: each.id }}>
                    {formatDay(dayInZone(each.windowStartsAt, each.timeZone))}
                  </Link>
                ),
              },
              { name: 'Home', cell: (each) => each.line1 },
              { name: 'For', cell: (each) => VISIT_KINDS[each.kind] },
              { name: 'Technician', cell: (each) => each.technicianName },
              { name: 'State', cell: (each) => <VisitStateTag state={each.state} /> },
            ]}
          />
        )}
      </Card>
      <CustomerPreferences customerId={customer.id} />
      <PrivateLinks customerId={customer.id} />
      <Dialog title={`Change ${customer.name}`} isOpen={changing} onClose={() => setChanging(false)}>
        <CustomerForm customer={customer} onDone={() => setChanging(false)} />
      </Dialog>
    </Page>
  )
}
