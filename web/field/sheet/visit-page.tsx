import { useLiveQuery } from 'dexie-react-hooks'
import { CHECKLIST } from '../../../trade/checklist/checklist.ts'
import { FUELS, GARAGES } from '../../../trade/property.ts'
import { SEVERITIES } from '../../../trade/verdict.ts'
import type { Severity } from '../../../trade/verdict.ts'
import { mayTake, type VisitState } from '../../../trade/visits.ts'
import { formatDay, formatSpan } from '../../shared/format.ts'
import { SeverityMark } from '../../shared/severity.tsx'
import { stateOf } from '../my-day/my-day.tsx'
import { keeping } from '../offline/keeping.ts'
import { keepStep } from '../offline/outbox.ts'
import type { Sheet } from '../offline/sheet.ts'
import type { StoredStep } from '../offline/store.ts'
import { store } from '../offline/use-field.ts'
import { GoTo } from '../parts/go-to.tsx'
import { RecordedTwice } from '../parts/recorded-twice.tsx'
import { Top } from '../parts/top.tsx'
import { go } from '../places.ts'
import type { Inspection } from './inspection-of.ts'
import { nextOpenLine } from './next-line.ts'
import { useInspection } from './use-inspection.ts'
import { Missing } from './missing.tsx'
import css from './visit-page.module.css'

/** One visit: how to get there and in, what is known, and the areas of the sheet with how far each is. */
export function VisitPage({ visitId }: { visitId: string }) {
  const inspection = useInspection(visitId)
  const steps = useLiveQuery(() => store.steps.where('visitId').equals(visitId).toArray(), [visitId])
  if (!inspection) return <Missing loading={inspection === undefined} />
  // Not read yet is not none: a step that was taken would be offered again.
  if (!steps) return <Missing loading />
  const { sheet } = inspection
  const state = stateOf(sheet, steps)
  const next = nextOpenLine(inspection, null)
  const isOpen = sheet.inspection?.state !== 'completed' && sheet.inspection?.state !== 'issued'
  return (
    <>
      <Top title={sheet.property.line1} back={{ place: { at: 'my-day' }, words: 'my day' }} />
      <main className="content">
        <Way sheet={sheet} state={state} />
        {sheet.kind !== 'inspection' && (
          <p className="box">
            This visit is not an inspection. Look at the findings below; answer what became of them.
          </p>
        )}
        <RecordedTwice sheet={sheet} />
        <Areas inspection={inspection} />
        <Known inspection={inspection} />
      </main>
      <nav className="bottom" aria-label="Next">
        {isOpen && next && (
          <button
            type="button"
            className="press"
            data-look="main"
            onClick={() => go({ at: 'area', visitId, areaId: next.area.id, line: next.key })}
          >
            {sheet.inspection ? 'Next unanswered' : 'Begin the inspection'}
          </button>
        )}
        {sheet.inspection && (
          <GoTo place={{ at: 'finish', visitId }} className="press">
            {isOpen ? 'Finish' : 'What was finished'}
          </GoTo>
        )}
      </nav>
    </>
  )
}

function Way({ sheet, state }: { sheet: Sheet; state: VisitState }) {
  const { property, customer } = sheet
  const address = [property.line1, property.line2, `${property.city} ${property.region} ${property.postcode}`]
    .filter(Boolean)
    .join(', ')
  const where =
    property.latitude !== null
      ? `geo:${property.latitude},${property.longitude}?q=${encodeURIComponent(address)}`
      : `geo:0,0?q=${encodeURIComponent(address)}`
  const step = (which: StoredStep['step']) => keeping(() => keepStep(store, sheet.id, which))
  return (
    <section className="box">
      <p>
        <strong>{formatSpan(sheet.windowStartsAt, sheet.windowEndsAt, property.timeZone)}</strong> ·{' '}
        {customer.name}
      </p>
      <p className={css.address}>{address}</p>
      {property.accessNotes && <p className="caution">{property.accessNotes}</p>}
      {sheet.note && <p className="caution">{sheet.note}</p>}
      <div className="row">
        <a className="press" href={where}>
          Open in maps
        </a>
        {[customer.phone, customer.secondPhone].filter(Boolean).map((phone) => (
          <a key={phone} className="press" href={`tel:${phone}`}>
            Call {phone}
          </a>
        ))}
      </div>
      <div className="row">
        {mayTake('start-travel', state) && (
          <button type="button" className="press" onClick={() => void step('start-travel')}>
            Set off
          </button>
        )}
        {mayTake('arrive', state) && (
          <button type="button" className="press" data-look="main" onClick={() => void step('arrive')}>
            Arrived
          </button>
        )}
        {mayTake('finish', state) && sheet.kind !== 'inspection' && (
          <button type="button" className="press" onClick={() => void step('finish')}>
            Leave
          </button>
        )}
      </div>
    </section>
  )
}

function Areas({ inspection: { sheet, progress, leftOut } }: { inspection: Inspection }) {
  return (
    <section aria-label="Areas">
      <ul className={css.areas}>
        {progress.map((area) => {
          const done = area.answered === area.lines
          return (
            <li key={area.areaId}>
              <GoTo
                place={{ at: 'area', visitId: sheet.id, areaId: area.areaId, line: null }}
                className={css.area!}
              >
                <span className={css.mark} aria-hidden="true">
                  {done ? '✓' : area.answered > 0 ? '◐' : '○'}
                </span>
                <span className={css.title}>{area.title}</span>
                <span className={css.count}>
                  {area.answered} of {area.lines}
                  {area.findings > 0 && (
                    <> · {area.findings === 1 ? '1 finding' : `${area.findings} findings`}</>
                  )}
                </span>
              </GoTo>
            </li>
          )
        })}
      </ul>
      {leftOut.length > 0 && (
        <details className="box">
          <summary>Left out for this home ({leftOut.length})</summary>
          <ul>
            {leftOut.map(({ item, reason }) => (
              <li key={item.id}>
                {item.title}: <span className="soft">{reason}</span>
              </li>
            ))}
          </ul>
        </details>
      )}
    </section>
  )
}

function Known({ inspection: { sheet } }: { inspection: Inspection }) {
  const { property, carried, history, equipment } = sheet
  const facts = [
    property.yearBuilt && `Built ${property.yearBuilt}`,
    property.yearAltered && `wiring altered ${property.yearAltered}`,
    property.levels && `${property.levels} ${property.levels === 1 ? 'level' : 'levels'}`,
    property.areaSqFt && `${property.areaSqFt} ft²`,
    property.fuels?.map((fuel) => FUELS[fuel as keyof typeof FUELS].toLowerCase()).join(', '),
    property.garage && `garage: ${GARAGES[property.garage as keyof typeof GARAGES].toLowerCase()}`,
    `${equipment.length} pieces of equipment on record`,
  ].filter(Boolean)
  const gravest = carried.toSorted(
    (a, b) => SEVERITIES.indexOf(a.severity as Severity) - SEVERITIES.indexOf(b.severity as Severity),
  )
  return (
    <>
      <section className="box">
        <h2>Known of this home</h2>
        <p>{facts.join(' · ')}</p>
        {history.map((each) => (
          <p key={each.inspectionId} className="soft">
            Inspected {formatDay(each.completedOn)} by {each.technicianName}: {each.findings} findings
            {each.unsafe > 0 && `, ${each.unsafe} unsafe`}
          </p>
        ))}
        {history.length === 0 && <p className="soft">Not inspected by us before.</p>}
      </section>
      {gravest.length > 0 && (
        <section className="box">
          <h2>Still open from earlier</h2>
          <ul className="plain-list">
            {gravest.map((finding) => (
              <li key={finding.id}>
                <SeverityMark severity={finding.severity as Severity} /> {finding.text}
              </li>
            ))}
          </ul>
          <p className="soft">Each is answered where it belongs, or under Finish.</p>
        </section>
      )}
    </>
  )
}

export const areaTitle = (areaId: string) =>
  CHECKLIST.areas.find((each) => each.id === areaId)?.title ?? 'Area'
