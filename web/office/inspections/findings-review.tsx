import { useMutation, useQueryClient } from '@tanstack/react-query'
import { useState } from 'react'
import type { FindingView } from '../../../server/inspections/record-schema.ts'
import type { InspectionView } from '../../../server/inspections/schema.ts'
import { findItem } from '../../../trade/checklist/checklist.ts'
import { isLowered, SEVERITY_WORDS } from '../../../trade/inspection/severity.ts'
import type { PhotoMark } from '../../../trade/inspection/photo-marks.ts'
import { SEVERITIES, type Severity } from '../../../trade/verdict.ts'
import { inspectionQueries } from '../../shared/api/homes.ts'
import { ApiProblem, http, urlOf } from '../../shared/api/http.ts'
import { MarkedPhoto } from '../../shared/photo/marked-photo.tsx'
import { SeverityMark } from '../../shared/severity.tsx'
import { Button } from '../../shared/ui/button.tsx'
import { Actions, Dialog } from '../../shared/ui/dialog.tsx'
import { SelectField, TextArea } from '../../shared/ui/fields.tsx'
import { Card } from '../../shared/ui/page.tsx'
import { Empty, Fault } from '../../shared/ui/states.tsx'
import { tell } from '../../shared/ui/toasts.tsx'
import css from './inspection.module.css'
import { SignedWords } from './signed-words.tsx'

/** Findings in the words that the customer will read; the office may mend them until the report is issued. */
export function FindingsReview({ inspection }: { inspection: InspectionView }) {
  const [changing, setChanging] = useState<FindingView | null>(null)
  const sorted = inspection.findings.toSorted(
    (a, b) => SEVERITIES.indexOf(a.severity as Severity) - SEVERITIES.indexOf(b.severity as Severity),
  )
  return (
    <Card title="Findings">
      {sorted.length === 0 && <Empty title="Nothing was found." />}
      <ul className={css.findings}>
        {sorted.map((finding) => (
          <li key={finding.id}>
            <p>
              <SeverityMark severity={finding.severity as Severity} />{' '}
              <span className={css.soft}>{findItem(finding.itemId)?.title}</span>
            </p>
            <p>{finding.text}</p>
            {finding.correction && <p className={css.soft}>Proposed: {finding.correction}</p>}
            {finding.makeSafe && <p>Made safe: {finding.makeSafe}</p>}
            {finding.refusal && (
              <SignedWords
                signature={finding.refusal}
                timeZone={inspection.property.timeZone}
                what="Making safe was declined"
              />
            )}
            {finding.loweredReason && <p className={css.soft}>Lowered because: {finding.loweredReason}</p>}
            <div className={css.photos}>
              {inspection.photos
                .filter(
                  (photo) =>
                    photo.itemId === finding.itemId &&
                    (photo.subjectId ?? null) === (finding.equipmentId ?? finding.spaceId),
                )
                .map((photo) => (
                  <figure key={photo.id}>
                    <a href={urlOf(`/photos/${photo.id}/picture`)}>
                      <MarkedPhoto
                        src={urlOf(
                          `/photos/${photo.id}/${photo.annotations.length > 0 ? 'picture' : 'thumbnail'}`,
                        )}
                        alt={photo.caption || `Picture of: ${finding.text}`}
                        marks={photo.annotations as unknown as PhotoMark[]}
                        size={photo}
                      />
                    </a>
                    {photo.caption && <figcaption>{photo.caption}</figcaption>}
                  </figure>
                ))}
            </div>
            {inspection.state !== 'issued' && (
              <div>
                <Button small onPress={() => setChanging(finding)} aria-label={`Change: ${finding.text}`}>
                  Change
                </Button>
              </div>
            )}
          </li>
        ))}
      </ul>
      <Dialog title="Change the finding" isOpen={changing !== null} onClose={() => setChanging(null)}>
        {changing && <FindingForm finding={changing} onDone={() => setChanging(null)} />}
      </Dialog>
    </Card>
  )
}

function FindingForm({ finding, onDone }: { finding: FindingView; onDone: () => void }) {
  const queryClient = useQueryClient()
  const [severity, setSeverity] = useState(finding.severity as Severity)
  const [text, setText] = useState(finding.text)
  const [correction, setCorrection] = useState(finding.correction)
  const [loweredReason, setLoweredReason] = useState(finding.loweredReason ?? '')
  const lowered = isLowered(finding.proposedSeverity as Severity | null, severity)
  const save = useMutation({
    mutationFn: () =>
      http.patch(`/findings/${finding.id}`, finding.version, {
        severity,
        text,
        correction,
        loweredReason: lowered ? loweredReason || null : null,
      }),
    onSuccess: () => {
      void queryClient.invalidateQueries({ queryKey: inspectionQueries.all() })
      tell('The finding is saved.')
      onDone()
    },
  })
  const fault = (pointer: string) =>
    save.error instanceof ApiProblem ? save.error.faults.get(pointer) : undefined
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault()
        save.mutate()
      }}
      style={{ display: 'grid', gap: 16 }}
    >
      <SelectField
        label="Severity"
        value={severity}
        onChange={(value) => setSeverity(value as Severity)}
        options={SEVERITIES.map((each) => [each, SEVERITY_WORDS[each].title] as const)}
        help={SEVERITY_WORDS[severity].meaning}
      />
      {lowered && (
        <TextArea
          label="Why less than proposed"
          value={loweredReason}
          onChange={setLoweredReason}
          fault={fault('#/loweredReason')}
          maxLength={1000}
          required
        />
      )}
      <TextArea
        label="What is wrong"
        value={text}
        onChange={setText}
        fault={fault('#/text')}
        maxLength={4000}
        required
      />
      <TextArea
        label="Proposed correction"
        value={correction}
        onChange={setCorrection}
        fault={fault('#/correction')}
        maxLength={4000}
      />
      <Fault error={save.error} />
      <Actions>
        <Button look="main" type="submit" isPending={save.isPending}>
          Save
        </Button>
      </Actions>
    </form>
  )
}
