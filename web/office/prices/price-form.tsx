import { useMutation, useQueryClient } from '@tanstack/react-query'
import { type FormEvent, useState } from 'react'
import type { PriceView } from '../../../server/prices/schema.ts'
import { CHECKLIST, findAreaOf, findItem } from '../../../trade/checklist/checklist.ts'
import {
  PRICE_UNITS,
  type PriceUnit,
  readMoney,
  readPercent,
  typedMoney,
  typedPercent,
} from '../../../trade/estimates/money.ts'
import { ApiProblem, http } from '../../shared/api/http.ts'
import { priceQueries } from '../../shared/api/prices.ts'
import { newId } from '../../shared/ids.ts'
import { Button } from '../../shared/ui/button.tsx'
import { Actions } from '../../shared/ui/dialog.tsx'
import { FieldGroup, FieldRow, SelectField, TextArea, TextField } from '../../shared/ui/fields.tsx'
import { Fault } from '../../shared/ui/states.tsx'
import { tell } from '../../shared/ui/toasts.tsx'
import css from './prices.module.css'

export const MONEY_FAULT = 'Type dollars and cents, such as 145.00; at most 100,000.00.'
export const PERCENT_FAULT = 'Type per cent, such as 8.25; nothing is 0.'

/** A price as it stands in the list; null makes a new one. */
export function PriceForm({ given, onDone }: { given: PriceView | null; onDone: () => void }) {
  const queryClient = useQueryClient()
  const [id] = useState(() => given?.id ?? newId())
  const [code, setCode] = useState(given?.code ?? '')
  const [name, setName] = useState(given?.name ?? '')
  const [description, setDescription] = useState(given?.description ?? '')
  const [unit, setUnit] = useState<PriceUnit>(given?.unit ?? 'each')
  const [price, setPrice] = useState(given ? typedMoney(given.priceCents) : '')
  const [tax, setTax] = useState(typedPercent(given?.taxBasisPoints ?? 0))
  const [items, setItems] = useState(given?.correctsItems ?? [])
  const [isTried, setIsTried] = useState(false)
  const cents = readMoney(price)
  const priceCents = cents !== null && cents >= 0 ? cents : null
  const taxBasisPoints = readPercent(tax)
  const after = (said: string) => {
    void queryClient.invalidateQueries({ queryKey: priceQueries.all() })
    tell(said)
    onDone()
  }
  const save = useMutation({
    mutationFn: () => {
      const body = { code, name, description, unit, priceCents, taxBasisPoints, correctsItems: items }
      return given ? http.patch(`/prices/${id}`, given.version, body) : http.post('/prices', { id, ...body })
    },
    onSuccess: () => after(`${code} is saved.`),
  })
  const retire = useMutation({
    mutationFn: () => http.post(`/prices/${id}/retire`, {}, { version: given!.version }),
    onSuccess: () => after(`${code} is no longer offered.`),
  })
  const submit = (event: FormEvent) => {
    event.preventDefault()
    setIsTried(true)
    if (priceCents !== null && taxBasisPoints !== null) save.mutate()
  }
  const fault = (pointer: string) =>
    save.error instanceof ApiProblem ? save.error.faults.get(pointer) : undefined
  return (
    <form onSubmit={submit} className={css.form}>
      <FieldRow>
        <TextField
          label="Code"
          value={code}
          onChange={setCode}
          fault={fault('#/code')}
          maxLength={40}
          required
        />
        <TextField
          label="Name"
          value={name}
          onChange={setName}
          fault={fault('#/name')}
          maxLength={200}
          required
        />
      </FieldRow>
      <FieldRow>
        <TextField
          label="Price without tax"
          inputMode="decimal"
          value={price}
          onChange={setPrice}
          fault={fault('#/priceCents') ?? (isTried && priceCents === null ? MONEY_FAULT : undefined)}
          required
        />
        <SelectField
          label="For"
          value={unit}
          onChange={(value) => setUnit(value as PriceUnit)}
          options={PRICE_UNITS}
        />
        <TextField
          label="Tax in per cent"
          inputMode="decimal"
          value={tax}
          onChange={setTax}
          fault={
            fault('#/taxBasisPoints') ?? (isTried && taxBasisPoints === null ? PERCENT_FAULT : undefined)
          }
          required
        />
      </FieldRow>
      <TextArea label="Description" value={description} onChange={setDescription} maxLength={1000} rows={2} />
      <Corrects items={items} onChange={setItems} />
      <Fault error={save.error ?? retire.error} />
      <Actions>
        {given && (
          <Button onPress={() => retire.mutate()} isPending={retire.isPending}>
            Offer it no longer
          </Button>
        )}
        <Button look="main" type="submit" isPending={save.isPending}>
          Save
        </Button>
      </Actions>
    </form>
  )
}

const titleOf = (id: string) => `${findAreaOf(id)?.title ?? id}: ${findItem(id)?.title ?? ''}`
const ALL = CHECKLIST.areas.flatMap((area) => area.items.map(({ id }) => [id, titleOf(id)] as const))

function Corrects({ items, onChange }: { items: readonly string[]; onChange: (items: string[]) => void }) {
  return (
    <FieldGroup legend="Findings that it usually corrects">
      {items.length > 0 && (
        <ul className={css.items}>
          {items.map((id) => (
            <li key={id}>
              {titleOf(id)}
              <Button
                small
                onPress={() => onChange(items.filter((each) => each !== id))}
                aria-label={`Remove ${titleOf(id)}`}
              >
                Remove
              </Button>
            </li>
          ))}
        </ul>
      )}
      <SelectField
        label="Add an item of the checklist"
        value=""
        onChange={(id) => id && onChange([...items, id])}
        options={ALL.filter(([id]) => !items.includes(id))}
        empty="Choose"
      />
    </FieldGroup>
  )
}
