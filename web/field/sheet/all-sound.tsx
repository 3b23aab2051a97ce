import { useEffect, useRef } from 'react'
import { STAYS, type StayReason, sweepOf } from '../../../trade/inspection/all-sound.ts'
import { type Line, lineKey } from '../../../trade/inspection/lines.ts'
import type { Answer } from '../../../trade/inspection/records.ts'
import type { Inspection } from './inspection-of.ts'

/** What "the others here are sound" would answer in an area, and what it would leave. */
export function sweepArea(inspection: Inspection, lines: readonly Line[]) {
  const { sheet, home } = inspection
  const open = lines.filter((each) => !inspection.answerAt(each))
  const answers = (sheet.inspection?.answers ?? []) as unknown as Answer[]
  return sweepOf(open, inspection.lines, answers, home, {
    isSpokenAgainst: (line) => inspection.verdictsAt(line).some((each) => each.outcome === 'finding'),
    isUnjudged: (line) => {
      const verdicts = inspection.verdictsAt(line).filter((each) => each.outcome !== 'not-applicable')
      return verdicts.length > 0 && verdicts.every((each) => each.outcome === 'undetermined')
    },
    hasEarlierFinding: (line) =>
      sheet.carried.some(
        (each) =>
          lineKey(each.itemId, each.equipmentId ?? each.spaceId) === line.key &&
          !sheet.inspection?.reviews.some((review) => review.findingId === each.id),
      ),
  })
}

/** What was just answered in one tap, the way back, and what is left for the person with the meter. */
export function Swept({
  count,
  staying,
  onUndo,
  onGo,
}: {
  count: number
  staying: readonly { line: Line; why: StayReason }[]
  onUndo: () => void
  onGo: (line: Line) => void
}) {
  const heading = useRef<HTMLHeadingElement>(null)
  useEffect(() => {
    heading.current?.focus({ preventScroll: true })
    heading.current?.parentElement?.scrollIntoView({ block: 'start' })
  }, [])
  return (
    <section className="box" aria-label="Answered in one tap" style={{ scrollMarginTop: 76 }}>
      <h2 ref={heading} tabIndex={-1}>
        {count === 1 ? 'One line is answered OK' : `${count} lines are answered OK`}
      </h2>
      <button type="button" className="press" onClick={onUndo}>
        Take that back
      </button>
      {staying.length > 0 && (
        <>
          <p>{staying.length === 1 ? 'One is left for you:' : `${staying.length} are left for you:`}</p>
          <ul className="plain-list">
            {staying.map(({ line, why }) => (
              <li key={line.key}>
                <button type="button" className="press to-line" onClick={() => onGo(line)}>
                  <span>{line.name ? `${line.item.title}: ${line.name}` : line.item.title}</span>
                  <span className="soft">{STAYS[why]}</span>
                </button>
              </li>
            ))}
          </ul>
        </>
      )}
    </section>
  )
}
