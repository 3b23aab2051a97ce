import type { FindingView } from '../../../server/inspections/record-schema.ts'
import type { Finding } from '../../../trade/inspection/records.ts'
import { isLowered, SEVERITY_WORDS } from '../../../trade/inspection/severity.ts'
import { SEVERITIES } from '../../../trade/verdict.ts'
import { SeverityMark } from '../../shared/severity.tsx'
import { KeptText } from '../parts/kept-text.tsx'
import { act, changeFinding, type FindingChange } from '../sheet/acts.ts'
import type { Inspection } from '../sheet/inspection-of.ts'
import { Refusal } from './refusal.tsx'
import { RemoveButton } from '../parts/remove-button.tsx'
import css from './finding-form.module.css'

/** One finding: how grave, what it is, what is proposed; for an unsafe one, how it was left. */
export function FindingForm({ inspection, finding }: { inspection: Inspection; finding: Finding }) {
  const { sheet } = inspection
  const save = (change: FindingChange) => changeFinding(sheet, finding.id, change)
  return (
    <div className={css.finding}>
      <div className={css.severities} role="group" aria-label="How grave">
        {SEVERITIES.map((severity) => (
          <button
            key={severity}
            type="button"
            aria-pressed={finding.severity === severity}
            className="press"
            onClick={() => save({ severity })}
          >
            <SeverityMark severity={severity} />
          </button>
        ))}
      </div>
      {finding.severity && <p className="soft">{SEVERITY_WORDS[finding.severity].meaning}</p>}
      {isLowered(finding.proposedSeverity, finding.severity) && (
        <KeptText
          label={`Why less than the proposed “${SEVERITY_WORDS[finding.proposedSeverity!].title}”`}
          stored={finding.loweredReason ?? ''}
          onKeep={(text) => save({ loweredReason: text.trim() || null })}
          maxLength={1000}
          required
        />
      )}
      <KeptText
        label="What is wrong"
        stored={finding.text}
        onKeep={(text) => save({ text })}
        rows={3}
        maxLength={4000}
        required
      />
      <KeptText
        label="Proposed correction"
        stored={finding.correction ?? ''}
        onKeep={(correction) => save({ correction })}
        maxLength={4000}
      />
      {finding.severity === 'unsafe' && (
        <div className={css.unsafe}>
          <KeptText
            label="What you did to make it safe"
            stored={finding.makeSafe ?? ''}
            onKeep={(text) => save({ makeSafe: text.trim() || null })}
            maxLength={1000}
            help="Switched off and tagged, taken out of use, utility called …"
          />
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
          label="Remove this finding"
          sure="Yes, remove it"
          onRemove={() =>
            void act(
              sheet,
              'remove-finding',
              { findingId: finding.id },
              (finding as unknown as FindingView).version || null,
            )
          }
        />
      </div>
    </div>
  )
}
