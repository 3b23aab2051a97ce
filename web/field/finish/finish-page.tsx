import { findAreaOf, findItem } from '../../../trade/checklist/checklist.ts'
import { lineKey } from '../../../trade/inspection/lines.ts'
import { VERDICT_CAUTION } from '../../../trade/verdict.ts'
import { CarriedFinding } from '../findings/carried.tsx'
import { GoTo } from '../parts/go-to.tsx'
import { RecordedTwice } from '../parts/recorded-twice.tsx'
import { Top } from '../parts/top.tsx'
import { act } from '../sheet/acts.ts'
import type { Inspection } from '../sheet/inspection-of.ts'
import { Missing } from '../sheet/missing.tsx'
import { useInspection } from '../sheet/use-inspection.ts'
import { WorkDeclined } from './work-declined.tsx'

const SHOWN = 25

/** What is still open, each with the way to it; and, when nothing is, the end of the inspection. */
export function FinishPage({ visitId }: { visitId: string }) {
  const inspection = useInspection(visitId)
  if (!inspection) return <Missing loading={inspection === undefined} />
  const { sheet, open } = inspection
  const back = { place: { at: 'visit' as const, visitId }, words: sheet.property.line1 }
  if (!sheet.inspection) {
    return (
      <>
        <Top title="Finish" back={back} />
        <main className="content">
          <p>The inspection has not begun.</p>
        </main>
      </>
    )
  }
  const isDone = sheet.inspection.state !== 'open'
  const carried = open.filter((each) => each.kind === 'carried-unanswered')
  const others = open.filter((each) => each.kind !== 'carried-unanswered' && each.kind !== 'unanswered')
  return (
    <>
      <Top title={isDone ? 'Finished' : 'Finish'} back={back} />
      <main className="content">
        <RecordedTwice sheet={sheet} />
        {isDone ? (
          <section className="box">
            <h2>This inspection is finished</h2>
            <p>
              {sheet.inspection.findings.length} findings were written down. The office issues the report;
              what is due later is planned by itself.
            </p>
          </section>
        ) : (
          <>
            <section className="box" aria-live="polite">
              <h2>
                {open.length === 0
                  ? 'Everything is answered'
                  : open.length === 1
                    ? 'One thing is still open'
                    : `${open.length} things are still open`}
              </h2>
              <Unanswered inspection={inspection} />
              {others.length > 0 && (
                <ul className="plain-list">
                  {others.slice(0, SHOWN).map((each) => (
                    <li key={`${each.kind}${each.itemId}${each.subjectId}${each.findingId}`}>
                      <GoTo
                        place={{
                          at: 'area',
                          visitId,
                          areaId: findAreaOf(each.itemId)?.id ?? '',
                          line: lineKey(each.itemId, each.subjectId),
                        }}
                        className="press to-line"
                      >
                        {each.text || findItem(each.itemId)?.title}
                      </GoTo>
                    </li>
                  ))}
                  {others.length > SHOWN && <li className="soft">and {others.length - SHOWN} more</li>}
                </ul>
              )}
            </section>
            {carried.map((each) => {
              const finding = sheet.carried.find((one) => one.id === each.findingId)
              return finding && <CarriedFinding key={finding.id} sheet={sheet} finding={finding} />
            })}
          </>
        )}
        <WorkDeclined sheet={sheet} isOpen={!isDone} />
        <p className="soft">{VERDICT_CAUTION}</p>
      </main>
      {!isDone && (
        <nav className="bottom" aria-label="Finish">
          <button
            type="button"
            className="press"
            data-look="main"
            disabled={open.length > 0}
            onClick={() => void act(sheet, 'complete-inspection', {})}
          >
            Finish the inspection
          </button>
        </nav>
      )}
    </>
  )
}

/** What was not looked at yet, an area a line: the way leads to its first. */
function Unanswered({ inspection: { sheet, lines, answerAt, progress } }: { inspection: Inspection }) {
  const areas = progress.filter((area) => area.answered < area.lines)
  if (areas.length === 0) return null
  return (
    <ul className="plain-list">
      {areas.map(({ areaId, title, lines: all, answered }) => {
        const first = lines.find((line) => line.area.id === areaId && !answerAt(line))
        return (
          <li key={areaId}>
            <GoTo
              place={{ at: 'area', visitId: sheet.id, areaId, line: first?.key ?? null }}
              className="press to-line"
            >
              <span>{title}</span>
              <span className="soft">
                {all - answered} of {all} not answered yet
              </span>
            </GoTo>
          </li>
        )
      })}
    </ul>
  )
}
