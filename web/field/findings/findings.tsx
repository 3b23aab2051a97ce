import type { Line } from '../../../trade/inspection/lines.ts'
import type { Finding } from '../../../trade/inspection/records.ts'
import { newId } from '../../shared/ids.ts'
import { act } from '../sheet/acts.ts'
import { type Inspection, inOrderOfWeight } from '../sheet/inspection-of.ts'
import { FindingForm } from './finding-form.tsx'

/** The findings of a line; what a rule found stands ready to be taken over. */
export function Findings({ inspection, line }: { inspection: Inspection; line: Line }) {
  const findings = inspection.findingsAt(line)
  const proposals = inOrderOfWeight(inspection.verdictsAt(line)).filter(
    (each) =>
      each.outcome === 'finding' &&
      !findings.some((finding) => (finding as { rule?: string | null }).rule === each.rule),
  )
  const add = (proposed?: { rule: string; severity: Finding['severity']; technician: string }) =>
    void act(inspection.sheet, 'save-finding', {
      findingId: newId(),
      itemId: line.item.id,
      spaceId: line.subjectKind === 'space' ? line.subjectId : null,
      equipmentId: line.subjectKind === 'equipment' ? line.subjectId : null,
      severity: proposed?.severity ?? 'repair',
      proposedSeverity: proposed?.severity ?? null,
      rule: proposed?.rule ?? null,
      text: proposed?.technician ?? '',
    })
  return (
    <section aria-label="Findings" style={{ display: 'grid', gap: 12 }}>
      {findings.map((finding) => (
        <FindingForm key={finding.id} inspection={inspection} finding={finding} />
      ))}
      <div className="row">
        {proposals.slice(0, 3).map((each) =>
          each.outcome === 'finding' ? (
            <button key={each.rule} type="button" className="press" onClick={() => add(each)}>
              Write down: {each.technician}
            </button>
          ) : null,
        )}
        <button type="button" className="press" onClick={() => add()}>
          {findings.length > 0 ? 'Another finding' : 'Write down a finding'}
        </button>
      </div>
    </section>
  )
}
