import { useQuery } from '@tanstack/react-query'
import { Link, useSearch } from '@tanstack/react-router'
import type { SearchView } from '../../../server/search/schema.ts'
import { http } from '../../shared/api/http.ts'
import { dayInZone, formatDay } from '../../shared/format.ts'
import { Card, Page } from '../../shared/ui/page.tsx'
import { Empty, Failed, Waiting } from '../../shared/ui/states.tsx'
import css from './search.module.css'

/** Everything that fits a name, an address or a phone, in whatever way it was typed. */
export function Search() {
  const { q = '' } = useSearch({ strict: false }) as { q?: string }
  const found = useQuery({
    queryKey: ['search', q],
    queryFn: () => http.get<SearchView>('/search', { q, limit: 20 }),
    enabled: q !== '',
  })
  const none =
    found.data && found.data.customers.length + found.data.properties.length + found.data.visits.length === 0
  return (
    <Page title={q ? `“${q}”` : 'Search'} under={q ? undefined : 'Type a name, an address or a phone above'}>
      {q && found.isPending && <Waiting what="Looking" />}
      {found.isError && <Failed error={found.error} retry={() => void found.refetch()} />}
      {none && (
        <Empty title="Nothing fits.">
          <p>Try part of the name, the street, or the last digits of the phone.</p>
        </Empty>
      )}
      {!!found.data?.properties.length && (
        <Card title="Homes">
          <ul className={css.found}>
            {found.data.properties.map((each) => (
              <li key={each.id}>
                <Link to="/homes/$id" params={{ id: each.id }}>
                  {each.line1}
                </Link>
                , {each.city} {each.postcode} {each.contactName && <span>{each.contactName}</span>}
              </li>
            ))}
          </ul>
        </Card>
      )}
      {!!found.data?.customers.length && (
        <Card title="People and firms">
          <ul className={css.found}>
            {found.data.customers.map((each) => (
              <li key={each.id}>
                <Link to="/customers/$id" params={{ id: each.id }}>
                  {each.name}
                </Link>{' '}
                <span>{[each.phone, each.email].filter(Boolean).join(', ')}</span>
              </li>
            ))}
          </ul>
        </Card>
      )}
      {!!found.data?.visits.length && (
        <Card title="Visits">
          <ul className={css.found}>
            {found.data.visits.map((each) => (
              <li key={each.id}>
                <Link to="/visits/$id" params={{ id: each.id }}>
                  {each.line1}, {formatDay(dayInZone(each.startsAt, each.timeZone))}
                </Link>{' '}
                <span>
                  {each.customerName}, {each.technicianName}
                </span>
              </li>
            ))}
          </ul>
        </Card>
      )}
    </Page>
  )
}
