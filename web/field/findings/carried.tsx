import type { FindingView } from '../../../server/inspections/record-schema.ts'
import { REVIEW_OUTCOMES, type ReviewOutcome } from '../../../trade/inspection/finding-states.ts'
import { type Line, lineKey } from '../../../trade/inspection/lines.ts'
import type { Severity } from '../../../trade/verdict.ts'
import { formatDay } from '../../shared/format.ts'
import { SeverityMark } from '../../shared/severity.tsx'
import type { Sheet } from '../offline/sheet.ts'
import { act } from '../sheet/acts.ts'
import type { Inspection } from '../sheet/inspection-of.ts'
import css from './finding-form.module.css'

/** Earlier findings at this line: each is answered again, so that nothing is forgotten. */
export function CarriedAt({ inspection: { sheet }, line }: { inspection: Inspection; line: Line }) {
  const carried = sheet.carried.filter(
    (each) => lineKey(each.itemId, each.equipmentId ?? each.spaceId) === line.key,
  )
  return carried.map((finding) => <CarriedFinding key={finding.id} sheet={sheet} finding={finding} />)
}

export function CarriedFinding({ sheet, finding }: { sheet: Sheet; finding: FindingView }) {
  const review = sheet.inspection?.reviews.find((each) => each.findingId === finding.id)
  return (
    <div className={css.finding}>
      <p>
        <SeverityMark severity={finding.severity as Severity} /> {finding.text}
      </p>
      <p className="soft">Found {formatDay(finding.foundOn)}. What became of it?</p>
      <div className="row" role="radiogroup" aria-label={`What became of: ${finding.text}`}>
        {(Object.entries(REVIEW_OUTCOMES) as [ReviewOutcome, string][]).map(([outcome, words]) => (
          <button
            key={outcome}
            type="button"
            role="radio"
            aria-checked={review?.outcome === outcome}
            className="press"
            onClick={() => void act(sheet, 'review-carried', { findingId: finding.id, outcome })}
          >
            {words}
          </button>
        ))}
      </div>
    </div>
  )
}
