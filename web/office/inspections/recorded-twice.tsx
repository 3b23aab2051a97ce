import { useMutation, useQueryClient } from '@tanstack/react-query'
import type { FieldOperationInput, OperationsResult } from '../../../server/field/operation-schema.ts'
import type { AlternativeView } from '../../../server/inspections/record-schema.ts'
import type { InspectionView } from '../../../server/inspections/schema.ts'
import { OPERATION_VERSION } from '../../../trade/inspection/operation-version.ts'
import { inspectionQueries } from '../../shared/api/homes.ts'
import { ApiProblem, http } from '../../shared/api/http.ts'
import { formatInstant } from '../../shared/format.ts'
import { newId } from '../../shared/ids.ts'
import { offeredWords } from '../../shared/recorded-twice.ts'
import { Button } from '../../shared/ui/button.tsx'
import { Actions } from '../../shared/ui/dialog.tsx'
import { Card } from '../../shared/ui/page.tsx'
import { Fault } from '../../shared/ui/states.tsx'
import css from './inspection.module.css'

/** What two recorded for one thing without seeing each other: the office may choose, too. */
export function RecordedTwice({ inspection }: { inspection: InspectionView }) {
  if (inspection.alternatives.length === 0) return null
  return (
    <Card title="Recorded twice">
      <ul className={css.findings}>
        {inspection.alternatives.map((each) => (
          <Offered key={each.id} inspection={inspection} alternative={each} />
        ))}
      </ul>
    </Card>
  )
}

function Offered({ inspection, alternative }: { inspection: InspectionView; alternative: AlternativeView }) {
  const queryClient = useQueryClient()
  const { title, other, shown, version } = offeredWords(alternative, inspection)
  const choose = useMutation({
    mutationFn: (choice: 'keep' | 'use') =>
      sendOne({
        v: OPERATION_VERSION,
        id: newId(),
        at: new Date().toISOString(),
        inspectionId: inspection.id,
        base: version,
        command: 'choose-recorded',
        payload: { alternativeId: alternative.id, choice },
      }),
    onSuccess: () => queryClient.invalidateQueries({ queryKey: inspectionQueries.all() }),
  })
  return (
    <li>
      <p>
        <strong>{title}</strong>
      </p>
      <p>
        Also recorded{alternative.recordedByName && ` by ${alternative.recordedByName}`},{' '}
        {formatInstant(alternative.recordedAt, inspection.property.timeZone)}: {other}
      </p>
      <p className={css.soft}>
        Shown now{alternative.replacedByName && `, from ${alternative.replacedByName}`}: {shown}
      </p>
      <Fault error={choose.error} />
      <Actions>
        <Button onPress={() => choose.mutate('keep')} isPending={choose.isPending}>
          Keep what is shown
        </Button>
        {inspection.state === 'open' && (
          <Button onPress={() => choose.mutate('use')} isPending={choose.isPending}>
            Use the other one
          </Button>
        )}
      </Actions>
    </li>
  )
}

/** One operation from a desk. @throws ApiProblem when it was refused */
async function sendOne(operation: FieldOperationInput): Promise<void> {
  const { outcomes } = await http.post<OperationsResult>('/field/operations', {
    deviceId: newId(),
    operations: [operation],
  })
  const problem = outcomes[0]?.problem
  if (problem) throw new ApiProblem(Number(problem['status']), problem)
}
