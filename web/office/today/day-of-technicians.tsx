import { Link } from '@tanstack/react-router'
import type { DayView } from '../../../server/visits/schema.ts'
import { VISIT_KINDS } from '../../../trade/visits.ts'
import { formatSpan, formatTime } from '../../shared/format.ts'
import { Tel } from '../../shared/ui/tel.tsx'
import { VisitStateTag } from '../visits/visit-state.tsx'
import css from './day-of-technicians.module.css'

/** The day as a list per technician, in the order they drive it. */
export function DayOfTechnicians({ day }: { day: DayView }) {
  return (
    <div className={css.technicians}>
      {day.technicians.map((technician) => (
        <section key={technician.id} className={css.technician} aria-label={technician.name}>
          <h3>
            {technician.name}
            <Tel number={technician.phone} />
          </h3>
          {technician.visits.length === 0 && <p className={css.free}>Free all day</p>}
          <ol>
            {technician.visits.map((visit) => (
              <li key={visit.id} data-state={visit.state}>
                <Link to="/visits/$id" params={{ id: visit.id }}>
                  <time dateTime={visit.startsAt}>{formatTime(visit.startsAt, visit.timeZone)}</time>
                  <span className={css.where}>{visit.line1}</span>
                </Link>
                <p>
                  {visit.customerName}
                  {visit.kind !== 'inspection' && `, ${VISIT_KINDS[visit.kind].toLowerCase()}`}
                </p>
                <p className={css.soft}>
                  Arrival {formatSpan(visit.windowStartsAt, visit.windowEndsAt, visit.timeZone)}
                </p>
                {(visit.state !== 'booked' || visit.confirmedAt) && (
                  <VisitStateTag state={visit.state} isConfirmed={visit.confirmedAt !== null} />
                )}
              </li>
            ))}
          </ol>
        </section>
      ))}
    </div>
  )
}
