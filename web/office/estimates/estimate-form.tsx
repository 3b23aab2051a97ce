import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import { type FormEvent, useState } from 'react'
import type { EstimateView, LineBody } from '../../../server/estimates/schema.ts'
import { lineNetCents, moneyInWords } from '../../../trade/estimates/money.ts'
import { OFFERABLE_FINDINGS } from '../../../trade/estimates/states.ts'
import { estimateQueries } from '../../shared/api/estimates.ts'
import { homeQueries } from '../../shared/api/homes.ts'
import { ApiProblem, http } from '../../shared/api/http.ts'
import { priceQueries } from '../../shared/api/prices.ts'
import { Button } from '../../shared/ui/button.tsx'
import { Actions } from '../../shared/ui/dialog.tsx'
import { FieldRow, SelectField, TextArea, TextField } from '../../shared/ui/fields.tsx'
import { Card } from '../../shared/ui/page.tsx'
import { Empty, Fault } from '../../shared/ui/states.tsx'
import { tell } from '../../shared/ui/toasts.tsx'
import css from './estimate.module.css'
import { bodyOf, draftOf, faultsOf, freeLine, type LineDraft, moved, pricedLine } from './line-draft.ts'
import { LineFields } from './line-fields.tsx'
import { Totals } from './totals.tsx'

/** Lines, last day and note of an estimate that may be changed. `onTouched` hears whether something is not saved yet. */
export function EstimateForm({
  estimate,
  onTouched,
}: {
  estimate: EstimateView
  onTouched: (isTouched: boolean) => void
}) {
  const queryClient = useQueryClient()
  const home = useQuery(homeQueries.one(estimate.propertyId))
  const [version, setVersion] = useState(estimate.version)
  const [lines, setLines] = useState(() => estimate.lines.map(draftOf))
  const [note, setNote] = useState(estimate.note)
  const [expiresOn, setExpiresOn] = useState(estimate.expiresOn ?? '')
  const [customerId, setCustomerId] = useState(estimate.customerId)
  const [isTried, setIsTried] = useState(false)
  const touch =
    <Value,>(set: (value: Value) => void) =>
    (value: Value) => {
      set(value)
      onTouched(true)
    }
  const change = touch(setLines)
  const bodies = lines.map(bodyOf)
  const readable = bodies.filter((each): each is LineBody => each !== null)
  const isWhole = lines.every((line) => Object.keys(faultsOf(line)).length === 0)
  const save = useMutation({
    mutationFn: (over: number) =>
      http.patch<EstimateView>(`/estimates/${estimate.id}`, over, {
        lines: bodies,
        note,
        expiresOn: expiresOn || null,
        ...(estimate.state === 'draft' && { customerId }),
      }),
    onSuccess: (after) => {
      setVersion(after.version)
      queryClient.setQueryData(estimateQueries.one(after.id).queryKey, after)
      void queryClient.invalidateQueries({ queryKey: ['homes'] })
      onTouched(false)
      tell(`Estimate ${after.number} is saved.`)
    },
  })
  const submit = (event: FormEvent) => {
    event.preventDefault()
    setIsTried(true)
    if (isWhole) save.mutate(version)
  }
  const conflict =
    save.error instanceof ApiProblem && save.error.type === 'changed-meanwhile'
      ? (save.error.body['current'] as EstimateView)
      : null
  const takeStored = (stored: EstimateView) => {
    setVersion(stored.version)
    setLines(stored.lines.map(draftOf))
    setNote(stored.note)
    setExpiresOn(stored.expiresOn ?? '')
    setCustomerId(stored.customerId)
    queryClient.setQueryData(estimateQueries.one(stored.id).queryKey, stored)
    save.reset()
    onTouched(false)
  }
  return (
    <form onSubmit={submit} className={css.form} noValidate>
      <Card title="Lines">
        {lines.length === 0 && <Empty title="No line yet. Add what is offered." />}
        <ol className={css.lines}>
          {lines.map((line, at) => (
            <LineFields
              key={line.id}
              line={line}
              number={at + 1}
              isLast={at === lines.length - 1}
              faults={isTried ? faultsOf(line) : {}}
              total={bodies[at] ? moneyInWords(lineNetCents(bodies[at])) : null}
              onChange={(part) => change(lines.map((each) => (each === line ? { ...each, ...part } : each)))}
              onMove={(by) => change(moved(lines, at, by))}
              onRemove={() => change(lines.filter((each) => each !== line))}
            />
          ))}
        </ol>
        <AddLine lines={lines} home={home.data} onAdd={(line) => change([...lines, line])} />
        <div aria-live="polite">
          <Totals lines={readable} />
          {readable.length < lines.length && (
            <p className={css.soft}>Lines that cannot be read are not counted.</p>
          )}
        </div>
      </Card>
      <Card title="For the customer">
        <FieldRow>
          {estimate.state === 'draft' && home.data && (
            <SelectField
              label="Who is offered it"
              value={customerId}
              onChange={touch(setCustomerId)}
              options={home.data.parties
                .filter(({ until }) => !until)
                .map((each) => [each.customerId, each.name] as const)}
            />
          )}
          <TextField
            label="Open until"
            type="date"
            value={expiresOn}
            onChange={touch(setExpiresOn)}
            help="The last day on which it can be accepted; empty = until it is withdrawn"
          />
        </FieldRow>
        <TextArea label="Note above the lines" value={note} onChange={touch(setNote)} maxLength={2000} />
      </Card>
      <Fault error={save.error} />
      {isTried && !isWhole && (
        <p role="alert">Something above cannot be read yet: see what stands under the fields.</p>
      )}
      <Actions>
        {conflict && (
          <>
            <Button onPress={() => takeStored(conflict)}>Take what is stored</Button>
            <Button onPress={() => save.mutate(conflict.version)}>Keep mine</Button>
          </>
        )}
        <Button look="main" type="submit" isPending={save.isPending}>
          Save
        </Button>
      </Actions>
    </form>
  )
}

function AddLine({
  lines,
  home,
  onAdd,
}: {
  lines: readonly LineDraft[]
  home:
    | { findings: readonly { id: string; text: string; severity: string; state: string; itemId: string }[] }
    | undefined
  onAdd: (line: LineDraft) => void
}) {
  const prices = useQuery(priceQueries.offered())
  const offered = prices.data?.items ?? []
  const findings = (home?.findings ?? []).filter(
    ({ id, state }) =>
      (OFFERABLE_FINDINGS as readonly string[]).includes(state) &&
      !lines.some(({ finding }) => finding?.id === id),
  )
  const addFinding = (id: string) => {
    const finding = findings.find((each) => each.id === id)
    if (finding)
      onAdd(freeLine({ finding: finding as NonNullable<LineDraft['finding']>, description: finding.text }))
  }
  const addPrice = (id: string) => {
    const price = offered.find((each) => each.id === id)
    if (price) onAdd(pricedLine(price))
  }
  return (
    <FieldRow>
      <SelectField
        label="Add from the price list"
        value=""
        onChange={addPrice}
        options={offered.map(({ id, code, name }) => [id, `${code}: ${name}`] as const)}
        empty="Choose"
      />
      <SelectField
        label="Add for a finding"
        value=""
        onChange={addFinding}
        options={findings.map(({ id, text }) => [id, text] as const)}
        empty={findings.length > 0 ? 'Choose' : 'All are on it'}
        disabled={findings.length === 0}
      />
      <div className={css.free}>
        <Button onPress={() => onAdd(freeLine())}>Add a free line</Button>
      </div>
    </FieldRow>
  )
}
