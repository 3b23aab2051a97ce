import { useSyncExternalStore } from 'react'
import { VISIT_KINDS, VISIT_STATES, type VisitKind, type VisitState } from '../../../trade/visits.ts'
import type { Severity } from '../../../trade/verdict.ts'
import type { PackVisit } from '../../../server/field/pack-schema.ts'
import { dayInZone, formatSpan, formatWeekday } from '../../shared/format.ts'
import { SeverityMark } from '../../shared/severity.tsx'
import { LockButton } from '../lock/lock-gate.tsx'
import type { StoredStep } from '../offline/store.ts'
import { syncing, useDay, useVisits } from '../offline/use-field.ts'
import { GoTo } from '../parts/go-to.tsx'
import { Top } from '../parts/top.tsx'
import css from './my-day.module.css'

/** The technician's visits, today's first, with what helps on the way. */
export function MyDay() {
  const visits = useVisits()
  const day = useDay()
  const { contact, busy } = useSyncExternalStore(syncing.subscribe, syncing.state)
  const byDay = groupByDay(visits ?? [])
  return (
    <>
      <Top title={day ? `${day.technician.name.split(' ')[0]}’s days` : 'My day'}>
        <LockButton />
      </Top>
      <main className="content">
        {contact === 'log-in' && (
          <p className="fault">
            Your log-in has run out. What you typed is safe. <a href="/log-in?to=/field/">Log in again</a>
          </p>
        )}
        {visits?.length === 0 &&
          (busy && !day ? (
            <p role="status">Fetching your visits…</p>
          ) : (
            <NoVisits reached={contact !== 'no-answer'} />
          ))}
        {[...byDay].map(([date, ofDay]) => (
          <section key={date} className={css.day}>
            <h2>{date === day?.day ? `Today, ${formatWeekday(date)}` : formatWeekday(date)}</h2>
            <ul className="plain-list">
              {ofDay.map(({ visit, steps }) => (
                <li key={visit.id}>
                  <VisitCard visit={visit} steps={steps} />
                </li>
              ))}
            </ul>
          </section>
        ))}
      </main>
    </>
  )
}

type Kept = NonNullable<ReturnType<typeof useVisits>>

function groupByDay(visits: Kept): Map<string, Kept> {
  const days = new Map<string, Kept>()
  for (const each of visits) {
    const day = dayInZone(each.visit.startsAt, each.visit.property.timeZone)
    days.set(day, [...(days.get(day) ?? []), each])
  }
  return days
}

function NoVisits({ reached }: { reached: boolean }) {
  return (
    <div className="box">
      <h2>{reached ? 'No visits in the next days' : 'Nothing on this device yet'}</h2>
      <p>
        {reached
          ? 'The office books them; they appear here by themselves.'
          : 'There is no signal. Open this once where there is some.'}
      </p>
    </div>
  )
}

/** The state with what was pressed here and has not been sent. */
export function stateOf(visit: PackVisit, steps: readonly StoredStep[]): VisitState {
  const last = steps.filter((each) => each.state === 'waiting').at(-1)?.step
  if (last === 'finish') return 'finished'
  if (last === 'arrive') return 'on-site'
  if (last === 'start-travel') return 'travelling'
  return visit.state as VisitState
}

function VisitCard({ visit, steps }: { visit: PackVisit; steps: readonly StoredStep[] }) {
  const { property, customer, carried } = visit
  const state = stateOf(visit, steps)
  const unsafe = carried.filter((each) => each.severity === 'unsafe').length
  return (
    <article className={css.visit} data-state={state} aria-label={property.line1}>
      <p className={css.when}>
        <strong>{formatSpan(visit.windowStartsAt, visit.windowEndsAt, property.timeZone)}</strong>
        <span>{state === 'booked' ? VISIT_KINDS[visit.kind as VisitKind] : VISIT_STATES[state]}</span>
      </p>
      <GoTo place={{ at: 'visit', visitId: visit.id }} className={css.where!}>
        {property.line1}
        {property.line2 && `, ${property.line2}`}
      </GoTo>
      <p className="soft">
        {property.city} {property.postcode} · {customer.name}
        {property.yearBuilt && ` · built ${property.yearBuilt}`}
      </p>
      {carried.length > 0 && (
        <p className={css.open}>
          {unsafe > 0 && <SeverityMark severity={'unsafe' satisfies Severity} />}
          {carried.length === 1
            ? 'One finding still open here'
            : `${carried.length} findings still open here`}
        </p>
      )}
      {visit.note && <p className="caution">{visit.note}</p>}
    </article>
  )
}
