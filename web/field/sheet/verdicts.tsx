import { useState } from 'react'
import type { Line } from '../../../trade/inspection/lines.ts'
import type { Answer } from '../../../trade/inspection/records.ts'
import { UNITS } from '../../../trade/units.ts'
import type { Required, Verdict } from '../../../trade/verdict.ts'
import { SeverityMark } from '../../shared/severity.tsx'
import { TextArea } from '../../shared/ui/fields.tsx'
import { answer } from './acts.ts'
import type { Inspection } from './inspection-of.ts'
import { spokenAt } from './spoken.ts'
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
  const { spoken, unknown } = spokenAt(inspection, line)
  const [all, setAll] = useState(false)
  if (spoken.length + unknown.length === 0) return null
  return (
    <section aria-label="Verdicts" className={css.verdicts} aria-live="polite">
      {[...spoken, ...(all ? unknown : [])].map((verdict) => (
        <OneVerdict
          key={verdict.rule + verdict.technician}
          verdict={verdict}
          inspection={inspection}
          line={line}
          given={given}
        />
      ))}
      {unknown.length > 0 && (
        <button
          type="button"
          className="press"
          data-look="quiet"
          aria-expanded={all}
          onClick={() => setAll(!all)}
        >
          {all ? 'Hide what needs more' : needsMore(unknown.length)}
        </button>
      )}
    </section>
  )
}

const needsMore = (count: number) =>
  count === 1 ? '1 rule needs more to judge' : `${count} rules need more to judge`

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
        <span>
          {verdict.technician}
          {disagreement && <strong className={css.disagreed}>You disagree</strong>}
        </span>
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
        <Given inputs={verdict.inputs} />
        <ul>
          {verdict.references.map((each, index) => (
            <li key={index}>
              {[each.code, each.edition, each.article].filter(Boolean).join(' ')}
              {each.row && `: ${each.row}`}
            </li>
          ))}
        </ul>
        <p className="soft">
          Required when built: {REQUIRED[verdict.requiredWhenBuilt]}. Required in new work today:{' '}
          {REQUIRED[verdict.requiredToday]}.
        </p>
        {disagreement ? (
          <div className={css.reasoned}>
            <p>You disagree: {String(disagreement['reason'])}</p>
            <button
              type="button"
              className="press"
              data-look="quiet"
              onClick={() =>
                void answer(inspection.sheet, line, {
                  disagreements: reasonsOf(stored?.disagreements).filter(
                    (each) => each.rule !== verdict.rule,
                  ),
                })
              }
            >
              Take it back
            </button>
          </div>
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

const REQUIRED: Readonly<Record<Required, string>> = { yes: 'yes', no: 'no', unknown: 'not known' }

/** `ratingAmps` → `rating amps` */
const inWords = (name: string) => name.replace(/([A-Z])/g, ' $1').toLowerCase()

/** What the rule was given; what is not known is said in one line instead of many. */
function Given({ inputs }: { inputs: Verdict['inputs'] }) {
  const isKnown = (value: unknown) => value !== null && value !== undefined && value !== ''
  const all = Object.entries(inputs)
  const known = all.filter(([, value]) => isKnown(value))
  const unknown = all.filter(([, value]) => !isKnown(value)).map(([name]) => inWords(name))
  const said = (value: unknown) => (value === true ? 'yes' : value === false ? 'no' : String(value))
  return (
    <>
      {known.length > 0 && (
        <dl aria-label="What the rule was given">
          {known.map(([name, value]) => (
            <div key={name}>
              <dt>{inWords(name)}</dt>
              <dd>{said(value)}</dd>
            </div>
          ))}
        </dl>
      )}
      {unknown.length > 0 && <p className="soft">Not known: {unknown.join(', ')}.</p>}
    </>
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
        I disagree
      </button>
    )
  }
  const keep = () => {
    const disagreements = [...reasonsOf(before), { rule, reason: reason.trim() }]
    void answer(inspection.sheet, line, { disagreements })
  }
  return (
    <div className={css.reasoned}>
      <TextArea
        label="Why you see it otherwise"
        value={reason}
        onChange={setReason}
        rows={2}
        maxLength={1000}
        help="It is kept beside the verdict, and the office reads it."
      />
      <button type="button" className="press" disabled={!reason.trim()} onClick={keep}>
        Keep my reason
      </button>
    </div>
  )
}

const reasonsOf = (stored: readonly Record<string, unknown>[] | undefined) =>
  (stored ?? []).map((each) => ({ rule: String(each['rule']), reason: String(each['reason']) }))

function Mark({ verdict }: { verdict: Verdict }) {
  if (verdict.outcome === 'finding') return <SeverityMark severity={verdict.severity} />
  return <span className={css.mark}>{verdict.outcome === 'sound' ? '✓ Sound' : '? Not known'}</span>
}
