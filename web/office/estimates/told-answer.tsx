import { useMutation, useQueryClient } from '@tanstack/react-query'
import { type FormEvent, useState } from 'react'
import type { EstimateView } from '../../../server/estimates/schema.ts'
import { type Choice, staysUnsafe } from '../../../trade/estimates/decision.ts'
import { moneyInWords } from '../../../trade/estimates/money.ts'
import { offerOf, sumsWith } from '../../../trade/estimates/options.ts'
import { TOLD_WAYS, type ToldWay } from '../../../trade/estimates/statement.ts'
import { ApiProblem, http } from '../../shared/api/http.ts'
import { estimateQueries } from '../../shared/api/estimates.ts'
import { Button } from '../../shared/ui/button.tsx'
import { Actions } from '../../shared/ui/dialog.tsx'
import { CheckField, FieldGroup, FieldRow, SelectField, TextField } from '../../shared/ui/fields.tsx'
import { Fault } from '../../shared/ui/states.tsx'
import { tell } from '../../shared/ui/toasts.tsx'
import css from './estimate.module.css'

const ANSWERS = { accepted: 'They accept it', declined: 'They do not want it' } as const

/** What the customer said on the telephone or in person: who has no e-mail answers like that. */
export function ToldAnswer({ estimate, onDone }: { estimate: EstimateView; onDone: () => void }) {
  const queryClient = useQueryClient()
  const [state, setState] = useState<Choice['state']>('accepted')
  const [chosen, setChosen] = useState<readonly string[]>([])
  const [name, setName] = useState(estimate.customerName)
  const [how, setHow] = useState<ToldWay>('phone')
  const [reason, setReason] = useState('')
  const [wasWarned, setWasWarned] = useState(false)
  const isAccepted = state === 'accepted'
  const { options } = offerOf(estimate.lines)
  const unsafe = staysUnsafe(estimate.lines, { state, chosen })
  const keep = useMutation({
    mutationFn: () =>
      http.post<EstimateView>(
        `/estimates/${estimate.id}/answer`,
        { state, options: isAccepted ? chosen : [], name, how, reason: isAccepted ? '' : reason, wasWarned },
        { version: estimate.version },
      ),
    onSuccess: (after) => {
      queryClient.setQueryData(estimateQueries.one(after.id).queryKey, after)
      for (const queryKey of [estimateQueries.all(), ['homes'], ['due'], ['requests']])
        void queryClient.invalidateQueries({ queryKey })
      tell(`Estimate ${after.number} is ${after.state}.`)
      onDone()
    },
  })
  const submit = (event: FormEvent) => {
    event.preventDefault()
    keep.mutate()
  }
  const fault = (pointer: string) =>
    keep.error instanceof ApiProblem ? keep.error.faults.get(pointer) : undefined
  return (
    <form onSubmit={submit} className={css.form}>
      <FieldRow>
        <SelectField
          label="Their answer"
          value={state}
          onChange={(next) => setState(next as Choice['state'])}
          options={ANSWERS}
        />
        <SelectField
          label="How they said it"
          value={how}
          onChange={(next) => setHow(next as ToldWay)}
          options={TOLD_WAYS}
        />
      </FieldRow>
      <TextField
        label="Who said it"
        value={name}
        onChange={setName}
        maxLength={120}
        fault={fault('#/name')}
        required
      />
      {isAccepted && options.length > 0 && (
        <FieldGroup legend="What they take besides what is always part of it">
          {options.map((option) => (
            <CheckField
              key={option.name}
              label={`${option.name}: ${moneyInWords(option.totalCents)} with tax`}
              checked={chosen.includes(option.name)}
              onChange={(isOn) =>
                setChosen(isOn ? [...chosen, option.name] : chosen.filter((each) => each !== option.name))
              }
            />
          ))}
        </FieldGroup>
      )}
      {isAccepted && (
        <>
          <p aria-live="polite">
            What they take comes to{' '}
            <strong>{moneyInWords(sumsWith(estimate.lines, chosen).totalCents)}</strong> with tax.
          </p>
          <p className={css.soft}>
            Some states ask for a signed contract before work on a home begins. This note does not take its
            place.
          </p>
        </>
      )}
      {!isAccepted && <TextField label="Why" value={reason} onChange={setReason} maxLength={300} />}
      {unsafe.length > 0 && (
        <FieldGroup legend="Stays unsafe">
          <ul>
            {unsafe.map(({ id, text }) => (
              <li key={id}>{text}</li>
            ))}
          </ul>
          <CheckField
            label="I told them that this can cause shock, burn or fire, and should not be used until it is corrected."
            checked={wasWarned}
            onChange={setWasWarned}
          />
        </FieldGroup>
      )}
      <Fault error={keep.error} />
      <Actions>
        <Button
          look="main"
          type="submit"
          isPending={keep.isPending}
          isDisabled={unsafe.length > 0 && !wasWarned}
        >
          Write it down
        </Button>
      </Actions>
    </form>
  )
}
