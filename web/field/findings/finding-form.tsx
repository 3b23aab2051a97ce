import { useState } from 'react'
import type { FindingView } from '../../../server/inspections/schema.ts'
import type { Finding } from '../../../trade/inspection/records.ts'
import { isLowered, SEVERITY_WORDS } from '../../../trade/inspection/severity.ts'
import { SEVERITIES, type Severity } from '../../../trade/verdict.ts'
import { SeverityMark } from '../../shared/severity.tsx'
import { TextArea } from '../../shared/ui/fields.tsx'
import { act } from '../sheet/acts.ts'
import type { Inspection } from '../sheet/inspection-of.ts'
import { Refusal } from './refusal.tsx'
import css from './finding-form.module.css'

/** One finding: how grave, what it is, what is proposed; for an unsafe one, how it was left. */
export function FindingForm({ inspection, finding }: { inspection: Inspection; finding: Finding }) {
  const { sheet } = inspection
  const stored = finding as unknown as FindingView
  const [draft, setDraft] = useState({
    text: finding.text,
    correction: finding.correction ?? '',
    makeSafe: finding.makeSafe ?? '',
    loweredReason: finding.loweredReason ?? '',
  })
  const save = (change: Partial<typeof draft & { severity: Severity; watchUntil: string | null }>) => {
    const {
      severity = finding.severity ?? 'repair',
      watchUntil = finding.watchUntil ?? null,
      ...texts
    } = { ...draft, ...change }
    void act(
      sheet,
      'save-finding',
      {
        findingId: finding.id,
        itemId: finding.itemId,
        spaceId: finding.spaceId,
        equipmentId: finding.equipmentId,
        severity,
        proposedSeverity: finding.proposedSeverity,
        rule: stored.rule,
        text: texts.text,
        correction: texts.correction,
        makeSafe: texts.makeSafe || null,
        loweredReason: texts.loweredReason || null,
        watchUntil: watchUntil as never,
      },
      stored.version || null,
    )
  }
  const typed = (name: keyof typeof draft) => ({
    value: draft[name],
    onChange: (value: string) => setDraft((before) => ({ ...before, [name]: value })),
    maxLength: name === 'text' || name === 'correction' ? 4000 : 1000,
  })
  const keepOnLeaving = (name: keyof typeof draft) => () => {
    if (draft[name] !== (finding[name] ?? '')) save({})
  }
  return (
    <div className={css.finding}>
      <div className="row" role="radiogroup" aria-label="How grave">
        {SEVERITIES.map((severity) => (
          <button
            key={severity}
            type="button"
            role="radio"
            aria-checked={finding.severity === severity}
            className="press"
            onClick={() => save({ severity })}
          >
            <SeverityMark severity={severity} />
          </button>
        ))}
      </div>
      {finding.severity && <p className="soft">{SEVERITY_WORDS[finding.severity].meaning}</p>}
      {isLowered(finding.proposedSeverity, finding.severity) && (
        <div onBlur={keepOnLeaving('loweredReason')}>
          <TextArea
            label={`Why less than the proposed “${SEVERITY_WORDS[finding.proposedSeverity!].title}”`}
            rows={2}
            required
            {...typed('loweredReason')}
          />
        </div>
      )}
      <div onBlur={keepOnLeaving('text')}>
        <TextArea label="What is wrong" required {...typed('text')} />
      </div>
      <div onBlur={keepOnLeaving('correction')}>
        <TextArea label="Proposed correction" rows={2} {...typed('correction')} />
      </div>
      {finding.severity === 'unsafe' && (
        <div className={css.unsafe}>
          <div onBlur={keepOnLeaving('makeSafe')}>
            <TextArea
              label="What you did to make it safe"
              rows={2}
              help="Switched off and tagged, taken out of use, utility called …"
              {...typed('makeSafe')}
            />
          </div>
          {!finding.makeSafe && <Refusal inspection={inspection} finding={finding} />}
        </div>
      )}
      {finding.severity === 'watch' && (
        <label className={css.watch}>
          Look again on
          <input
            type="date"
            value={finding.watchUntil ?? ''}
            min={inspection.today}
            onChange={(event) => save({ watchUntil: event.target.value || null })}
          />
        </label>
      )}
      <div className="row">
        <RemoveButton
          onRemove={() =>
            void act(sheet, 'remove-finding', { findingId: finding.id }, stored.version || null)
          }
        />
      </div>
    </div>
  )
}

function RemoveButton({ onRemove }: { onRemove: () => void }) {
  const [asked, setAsked] = useState(false)
  return (
    <button
      type="button"
      className="press"
      data-look={asked ? 'danger' : 'quiet'}
      onClick={() => (asked ? onRemove() : setAsked(true))}
    >
      {asked ? 'Yes, remove it' : 'Remove this finding'}
    </button>
  )
}
