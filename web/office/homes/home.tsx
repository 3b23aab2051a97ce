import { useQuery } from '@tanstack/react-query'
import { Link, useParams } from '@tanstack/react-router'
import { useState } from 'react'
import type { HomeView } from '../../../server/properties/home-schema.ts'
import { FUELS, GARAGES, TENURES } from '../../../trade/property.ts'
import { PARTY_ROLES, VISIT_KINDS } from '../../../trade/visits.ts'
import { homeQueries } from '../../shared/api/homes.ts'
import { urlOf } from '../../shared/api/http.ts'
import { dayInZone, formatDay } from '../../shared/format.ts'
import { Button, buttonLink } from '../../shared/ui/button.tsx'
import { Dialog } from '../../shared/ui/dialog.tsx'
import { Card, Facts, Page, Tag } from '../../shared/ui/page.tsx'
import { Empty, Failed, Waiting } from '../../shared/ui/states.tsx'
import { Table } from '../../shared/ui/table.tsx'
import { Tel } from '../../shared/ui/tel.tsx'
import { BookVisit } from '../visits/book-visit.tsx'
import { VisitStateTag } from '../visits/visit-state.tsx'
import { EstimatesAtHome } from './estimates-at-home.tsx'
import { DueAtHome } from './due-at-home.tsx'
import { EquipmentAtHome } from './equipment-at-home.tsx'
import { FindingsAtHome } from './findings-at-home.tsx'
import { HomePictures } from './home-pictures.tsx'
import css from './home.module.css'

export function Home() {
  const { id } = useParams({ strict: false }) as { id: string }
  const home = useQuery(homeQueries.one(id))
  if (home.isPending) return <Waiting />
  if (home.isError) return <Failed error={home.error} retry={() => void home.refetch()} />
  return <HomePage home={home.data} />
}

/** Everything about one home on one screen: who, what is open, what is installed with its dates, what happened. */
function HomePage({ home }: { home: HomeView }) {
  const [booking, setBooking] = useState(false)
  const contact = home.parties.find((each) => each.isContact && !each.until) ?? home.parties[0]
  return (
    <Page
      title={home.line1}
      under={[home.line2, `${home.city} ${home.region} ${home.postcode}`].filter(Boolean).join(', ')}
      actions={
        <>
          <Link to="/homes/$id/load" params={{ id: home.id }} className={buttonLink}>
            Load worksheet
          </Link>
          {contact && (
            <Button look="main" onPress={() => setBooking(true)}>
              Book a visit
            </Button>
          )}
        </>
      }
    >
      <div className={css.two}>
        <Card title="Home">
          <Facts
            facts={[
              ['Built', home.yearBuilt],
              ['Wiring altered', home.yearAltered],
              ['Levels', home.levels],
              ['Area', home.areaSqFt && `${home.areaSqFt} ft²`],
              ['Fuels', home.fuels.map((fuel) => FUELS[fuel as keyof typeof FUELS]).join(', ') || null],
              ['Garage', home.garage && GARAGES[home.garage as keyof typeof GARAGES]],
              ['Tenure', home.tenure && TENURES[home.tenure as keyof typeof TENURES]],
              ['Code authority', home.jurisdictionName],
              ['Last inspected', home.lastInspectedOn ? formatDay(home.lastInspectedOn) : 'Never'],
              ['Rooms', home.spaces.length],
            ]}
          />
          {home.accessNotes && <p className={css.access}>{home.accessNotes}</p>}
          {home.notes && <p>{home.notes}</p>}
        </Card>
        <Card title="People">
          <People home={home} />
        </Card>
      </div>
      <FindingsAtHome home={home} />
      <EstimatesAtHome home={home} />
      <DueAtHome home={home} />
      <HomePictures home={home} />
      <EquipmentAtHome home={home} />
      <Card title="Visits and reports">
        <Visits home={home} />
      </Card>
      <Card title="Messages">
        <Messages home={home} />
      </Card>
      <Dialog title={`Book ${home.line1}`} isOpen={booking} onClose={() => setBooking(false)} wide>
        {contact && (
          <BookVisit
            given={{ customerId: contact.customerId, propertyId: home.id, kind: 'inspection' }}
            onDone={() => setBooking(false)}
          />
        )}
      </Dialog>
    </Page>
  )
}

function People({ home }: { home: HomeView }) {
  if (home.parties.length === 0) return <Empty title="Nobody is on record for this home." />
  return (
    <ul className={css.people}>
      {home.parties.map((each) => (
        <li key={`${each.customerId}${each.role}`}>
          <p>
            <Link to="/customers/$id" params={{ id: each.customerId }}>
              {each.name}
            </Link>{' '}
            <Tag>{PARTY_ROLES[each.role]}</Tag>{' '}
            {each.isContact && !each.until && <Tag tone="good">Gets the messages</Tag>}
            {each.until && <Tag>until {formatDay(each.until)}</Tag>}
          </p>
          <p>
            <Tel number={each.phone} /> {each.email && <a href={`mailto:${each.email}`}>{each.email}</a>}
          </p>
        </li>
      ))}
    </ul>
  )
}

function Visits({ home }: { home: HomeView }) {
  if (home.visits.length === 0) return <Empty title="Nobody has been here yet." />
  return (
    <Table
      caption="Visits"
      rows={home.visits}
      rowKey={(each) => each.id}
      columns={[
        {
          name: 'Day',
          cell: (each) => (
            <Link to="/visits/$id" params={{ id: each.id }}>
              {formatDay(dayInZone(each.startsAt, home.timeZone))}
            </Link>
          ),
        },
        { name: 'For', cell: (each) => VISIT_KINDS[each.kind] },
        { name: 'Technician', cell: (each) => each.technicianName },
        { name: 'State', cell: (each) => <VisitStateTag state={each.state} /> },
        {
          name: 'Inspection',
          cell: (each) =>
            each.inspectionId ? (
              <Link to="/inspections/$id" params={{ id: each.inspectionId }}>
                Open
              </Link>
            ) : null,
        },
        {
          name: 'Report',
          cell: (each) => {
            const report = home.reports.find((one) => one.inspectionId === each.inspectionId)
            return report ? (
              <a href={urlOf(`/reports/${report.id}/pdf`)}>PDF, version {report.version}</a>
            ) : null
          },
        },
      ]}
    />
  )
}

function Messages({ home }: { home: HomeView }) {
  if (home.messages.length === 0) return <Empty title="No message has been written about this home." />
  return (
    <Table
      caption="Messages"
      rows={home.messages}
      rowKey={(each) => each.id}
      columns={[
        {
          name: 'Subject',
          cell: (each) => (
            <Link to="/messages/$id" params={{ id: each.id }}>
              {each.subject ?? each.reason}
            </Link>
          ),
        },
        { name: 'To', cell: (each) => each.toName },
        { name: 'State', cell: (each) => each.state },
        { name: 'Written', cell: (each) => formatDay(each.createdAt.slice(0, 10)), right: true },
      ]}
    />
  )
}
