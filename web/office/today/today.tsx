import { useQuery } from '@tanstack/react-query'
import { Link, useNavigate, useSearch } from '@tanstack/react-router'
import type { WorklistNumbers } from '../../../server/follow-ups/schema.ts'
import { addDays, type Day, parseDay } from '../../../trade/dates.ts'
import { http } from '../../shared/api/http.ts'
import { meQuery } from '../../shared/api/me.ts'
import { requestQueries, visitQueries } from '../../shared/api/visits.ts'
import { formatWeekday } from '../../shared/format.ts'
import { Button, buttonLink } from '../../shared/ui/button.tsx'
import { Card, Page } from '../../shared/ui/page.tsx'
import { Empty, Failed, Waiting } from '../../shared/ui/states.tsx'
import { RequestList } from '../requests/request-list.tsx'
import { Dangers } from './dangers.tsx'
import { DayOfTechnicians } from './day-of-technicians.tsx'
import css from './today.module.css'

/** What the office looks at all day: who is where, who waits for a day, what is overdue. */
export function Today() {
  const { data: me } = useQuery(meQuery)
  const { day: asked } = useSearch({ strict: false }) as { day?: string }
  const today = me?.today ?? ''
  const day = (asked && parseDay(asked)) || today
  if (!day) return <Waiting />
  return (
    <Page
      title={day === today ? 'Today' : formatWeekday(day)}
      under={day === today ? formatWeekday(day) : undefined}
      actions={
        <Link to="/requests/new" className={buttonLink} data-look="main">
          Take a request
        </Link>
      }
    >
      <Dangers />
      <Overdue />
      <div className={css.columns}>
        <DayCard day={day as Day} isToday={day === today} />
        <WaitingRequests />
      </div>
    </Page>
  )
}

function DayCard({ day, isToday }: { day: Day; isToday: boolean }) {
  const navigate = useNavigate()
  const visits = useQuery(visitQueries.day(day))
  const go = (to: Day | null) => void navigate({ to: '/today', search: to ? { day: to } : {} })
  const count = visits.data?.technicians.reduce((sum, each) => sum + each.visits.length, 0)
  return (
    <Card
      title={count === undefined ? 'Visits' : count === 1 ? 'One visit' : `${count} visits`}
      actions={
        <div className={css.days}>
          <Button small onPress={() => go(addDays(day, -1))}>
            Day before
          </Button>
          {!isToday && (
            <Button small onPress={() => go(null)}>
              Today
            </Button>
          )}
          <Button small onPress={() => go(addDays(day, 1))}>
            Day after
          </Button>
        </div>
      }
    >
      {visits.isPending && <Waiting />}
      {visits.isError && <Failed error={visits.error} retry={() => void visits.refetch()} />}
      {visits.data && <DayOfTechnicians day={visits.data} />}
    </Card>
  )
}

function WaitingRequests() {
  const requests = useQuery(requestQueries.waiting())
  return (
    <Card title="Waiting for a day">
      {requests.isPending && <Waiting />}
      {requests.isError && <Failed error={requests.error} retry={() => void requests.refetch()} />}
      {requests.data?.items.length === 0 && <Empty title="Nobody is waiting. Every request has its day." />}
      {!!requests.data?.items.length && <RequestList requests={requests.data.items} />}
    </Card>
  )
}

const numbersQuery = {
  queryKey: ['due', 'numbers'] as const,
  queryFn: () => http.get<WorklistNumbers>('/follow-ups/numbers'),
}

/** One line that says whether somebody has to pick up the phone. */
function Overdue() {
  const numbers = useQuery(numbersQuery)
  if (!numbers.data) return null
  const { due, waiting, ignoredTwice, bounced, toLookAt } = numbers.data
  const facts = [
    [due, due === 1 ? 'thing due now' : 'things due now', { tab: 'due' }],
    [waiting, 'waiting for the customer', { tab: 'waiting' }],
    [ignoredTwice, 'never answered: phone them', { only: 'ignored' }],
    [toLookAt, 'said on their pages: look at it', { tab: 'answers' }],
    [bounced, bounced === 1 ? 'letter came back' : 'letters came back', { tab: 'due' }],
  ] as const
  return (
    <ul className={css.numbers} aria-label="What is due">
      {facts.map(([count, words, search]) => (
        <li key={words}>
          <Link
            to={words.includes('came back') ? '/messages' : '/due'}
            search={words.includes('came back') ? { state: 'bounced' } : search}
          >
            <strong>{count}</strong> {words}
          </Link>
        </li>
      ))}
    </ul>
  )
}
