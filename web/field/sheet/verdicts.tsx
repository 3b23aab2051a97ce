import { useState } from 'react'
import type { Line } from '../../../trade/inspection/lines.ts'
import type { Answer } from '../../../trade/inspection/records.ts'
import { UNITS } from '../../../trade/units.ts'
import type { Verdict } from '../../../trade/verdict.ts'
import { SeverityMark } from '../../shared/severity.tsx'
import { answer } from './acts.ts'
import { type Inspection, inOrderOfWeight } from './inspection-of.ts'
import css from './verdicts.module.css'

/** What the rules say of a line, one sentence each, the gravest first; a tap opens inputs, article and table row. */
export function Verdicts({
  inspection,
  line,
  given,
}: {
  inspection: Inspection
  line: Line
  given: Answer | undefined
}) {
  const verdicts = inOrderOfWeight(inspection.verdictsAt(line)).filter(
    (each) => each.outcome !== 'not-applicable',
  )
  const [all, setAll] = useState(false)
  if (verdicts.length === 0) return null
  const spoken = verdicts.filter((each) => each.outcome !== 'undetermined')
  const shown = all ? verdicts : spoken
  return (
    <section aria-label="Verdicts" className={css.verdicts} aria-live="polite">
      {shown.map((verdict) => (
        <OneVerdict
          key={verdict.rule + verdict.technician}
          verdict={verdict}
          inspection={inspection}
          line={line}
          given={given}
        />
      ))}
      {verdicts.length > spoken.length && (
        <button
          type="button"
          className="press"
          data-look="quiet"
          aria-expanded={all}
          onClick={() => setAll(!all)}
        >
          {all ? 'Hide what is not known yet' : `${verdicts.length - spoken.length} cannot be judged yet`}
        </button>
      )}
    </section>
  )
}

function OneVerdict({
  verdict,
  inspection,
  line,
  given,
}: {
  verdict: Verdict
  inspection: Inspection
  line: Line
  given: Answer | undefined
}) {
  const stored = inspection.sheet.inspection?.answers.find(
    (each) => each.itemId === line.item.id && each.subjectId === line.subjectId,
  )
  const disagreement = stored?.disagreements.find((each) => each['rule'] === verdict.rule)
  return (
    <details className={css.verdict} data-outcome={verdict.outcome}>
      <summary>
        <Mark verdict={verdict} />
        <span>{verdict.technician}</span>
      </summary>
      <div className={css.inside}>
        {verdict.outcome === 'undetermined' && <p>Missing: {verdict.missing.join(', ')}.</p>}
        {verdict.figures.length > 0 && (
          <dl>
            {verdict.figures.map((figure) => (
              <div key={figure.label}>
                <dt>{figure.label}</dt>
                <dd>
                  {Math.round(figure.value * 1000) / 1000} {UNITS[figure.unit]}
                </dd>
              </div>
            ))}
          </dl>
        )}
        <p className="soft">
          Given:{' '}
          {Object.entries(verdict.inputs)
            .map(
              ([name, value]) =>
                `${name.replace(/([A-Z])/g, ' $1').toLowerCase()} ${value === null ? 'not known' : String(value)}`,
            )
            .join(', ')}
        </p>
        <ul>
          {verdict.references.map((each, index) => (
            <li key={index}>
              {[each.code, each.edition, each.article].filter(Boolean).join(' ')}
              {each.row && `: ${each.row}`}
            </li>
          ))}
        </ul>
        <p className="soft">
          Required when built: {verdict.requiredWhenBuilt}. Required in new work today:{' '}
          {verdict.requiredToday}.
        </p>
        {disagreement ? (
          <p>You disagree: {String(disagreement['reason'])}</p>
        ) : (
          given && (
            <Disagree
              rule={verdict.rule}
              inspection={inspection}
              line={line}
              before={stored?.disagreements ?? []}
            />
          )
        )}
      </div>
    </details>
  )
}

/** Whoever stands before it may know better; the reason stays on the record. */
function Disagree({
  rule,
  inspection,
  line,
  before,
}: {
  rule: string
  inspection: Inspection
  line: Line
  before: readonly Record<string, unknown>[]
}) {
  const [reason, setReason] = useState<string | null>(null)
  if (reason === null) {
    return (
      <button type="button" className="press" onClick={() => setReason('')}>
        I see it otherwise
      </button>
    )
  }
  const keep = () => {
    const kept = before.map((each) => ({ rule: String(each['rule']), reason: String(each['reason']) }))
    void answer(inspection.sheet, line, { disagreements: [...kept, { rule, reason: reason.trim() }] })
  }
  return (
    <div className="row">
      <label>
        Why
        <input
          className={css.reason}
          value={reason}
          maxLength={1000}
          onChange={(event) => setReason(event.target.value)}
        />
      </label>
      <button type="button" className="press" disabled={!reason.trim()} onClick={keep}>
        Keep my reason
      </button>
    </div>
  )
}

function Mark({ verdict }: { verdict: Verdict }) {
  if (verdict.outcome === 'finding') return <SeverityMark severity={verdict.severity} />
  return <span className={css.mark}>{verdict.outcome === 'sound' ? '✓ Sound' : '? Not known'}</span>
}
