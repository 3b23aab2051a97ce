import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import { type FormEvent, useState } from 'react'
import type { JurisdictionView } from '../../../server/settings/schema.ts'
import { EDITIONS } from '../../../trade/editions.ts'
import { ApiProblem, http } from '../../shared/api/http.ts'
import { formatDay, formatInstant } from '../../shared/format.ts'
import { newId } from '../../shared/ids.ts'
import { Button } from '../../shared/ui/button.tsx'
import { Actions, Dialog } from '../../shared/ui/dialog.tsx'
import { CheckField, FieldRow, SelectField, TextField } from '../../shared/ui/fields.tsx'
import { Card } from '../../shared/ui/page.tsx'
import { Empty, Failed, Fault, Waiting } from '../../shared/ui/states.tsx'
import { Table } from '../../shared/ui/table.tsx'
import { tell } from '../../shared/ui/toasts.tsx'
import css from './jurisdictions.module.css'

const jurisdictionsQuery = {
  queryKey: ['jurisdictions'] as const,
  queryFn: () => http.get<JurisdictionView[]>('/jurisdictions'),
}

/** Who has authority where, which edition of the code they adopted when, and what they changed in it. */
export function Jurisdictions() {
  const list = useQuery(jurisdictionsQuery)
  const [open, setOpen] = useState<JurisdictionView | 'new' | null>(null)
  return (
    <Card title="Codes in force" actions={<Button onPress={() => setOpen('new')}>Add a jurisdiction</Button>}>
      {list.isPending && <Waiting />}
      {list.isError && <Failed error={list.error} retry={() => void list.refetch()} />}
      {list.data?.length === 0 && (
        <Empty title="No jurisdiction yet.">
          <p>Without one the rules cannot tell which edition is in force, and say so.</p>
        </Empty>
      )}
      {!!list.data?.length && (
        <Table
          caption="Jurisdictions"
          rows={list.data}
          rowKey={(each) => each.id}
          columns={[
            { name: 'Name', cell: (each) => each.name },
            { name: 'Region', cell: (each) => each.region },
            { name: 'Edition now', cell: (each) => editionNow(each) },
            { name: 'Local changes', right: true, cell: (each) => each.amendments.length },
            {
              name: 'Change',
              right: true,
              cell: (each) => (
                <Button small onPress={() => setOpen(each)} aria-label={`Change ${each.name}`}>
                  Change
                </Button>
              ),
            },
          ]}
        />
      )}
      <Dialog
        title={open === 'new' ? 'Add a jurisdiction' : (open?.name ?? '')}
        isOpen={open !== null}
        onClose={() => setOpen(null)}
        wide
      >
        {open && <JurisdictionForm given={open === 'new' ? null : open} onDone={() => setOpen(null)} />}
      </Dialog>
    </Card>
  )
}

function editionNow(each: JurisdictionView): string {
  const last = each.adoptions.at(-1)
  return last ? `${last.edition}, since ${formatDay(last.from)}` : 'Not known'
}

const EFFECTS = { add: 'Asks for it', remove: 'Does not ask for it', postpone: 'Asks for it later' } as const
type Amended = JurisdictionView['amendments'][number]

function JurisdictionForm({ given, onDone }: { given: JurisdictionView | null; onDone: () => void }) {
  const queryClient = useQueryClient()
  const [id] = useState(() => given?.id ?? newId())
  const [name, setName] = useState(given?.name ?? '')
  const [region, setRegion] = useState(given?.region ?? '')
  const [isUs, setIsUs] = useState(given?.isUs ?? true)
  const [adoptions, setAdoptions] = useState(given?.adoptions ?? [])
  const [amendments, setAmendments] = useState<Amended[]>(given?.amendments ?? [])
  const save = useMutation({
    mutationFn: () => {
      const body = {
        name,
        region,
        isUs,
        adoptions,
        amendments: amendments.map(({ by: _by, at: _at, ...rest }) => rest),
      }
      return given
        ? http.patch(`/jurisdictions/${id}`, given.version, body)
        : http.post('/jurisdictions', { id, ...body })
    },
    onSuccess: () => {
      void queryClient.invalidateQueries(jurisdictionsQuery)
      tell(`${name} is saved.`)
      onDone()
    },
  })
  const submit = (event: FormEvent) => {
    event.preventDefault()
    save.mutate()
  }
  const fault = (pointer: string) =>
    save.error instanceof ApiProblem ? save.error.faults.get(pointer) : undefined
  const change = <Row,>(rows: Row[], index: number, part: Partial<Row>) =>
    rows.map((row, at) => (at === index ? { ...row, ...part } : row))
  return (
    <form onSubmit={submit} className={css.form}>
      <FieldRow>
        <TextField label="Name" value={name} onChange={setName} fault={fault('#/name')} required />
        <TextField label="State or region" value={region} onChange={setRegion} />
        <CheckField
          label="In the United States"
          checked={isUs}
          onChange={setIsUs}
          help="Dates on labels are then read month first."
        />
      </FieldRow>
      <fieldset className={css.rows}>
        <legend>Editions of NFPA 70 adopted, by first day in force</legend>
        {adoptions.map((adoption, index) => (
          <div key={index} className={css.row}>
            <SelectField
              label="Edition"
              value={adoption.edition}
              onChange={(edition) => setAdoptions(change(adoptions, index, { edition }))}
              options={[...EDITIONS].reverse().map((edition) => [edition, edition] as const)}
            />
            <TextField
              label="In force from"
              type="date"
              value={adoption.from}
              onChange={(from) => setAdoptions(change(adoptions, index, { from }))}
              fault={fault(`#/adoptions/${index}/from`)}
              required
            />
            <Button
              small
              onPress={() => setAdoptions(adoptions.filter((_, at) => at !== index))}
              aria-label={`Remove edition ${adoption.edition}`}
            >
              Remove
            </Button>
          </div>
        ))}
        <Button small onPress={() => setAdoptions([...adoptions, { edition: '2023', from: '' }])}>
          Add an edition
        </Button>
      </fieldset>
      <fieldset className={css.rows}>
        <legend>Local changes to the code</legend>
        {amendments.map((amendment, index) => (
          <div key={index} className={css.row}>
            <TextField
              label="Requirement"
              value={amendment.requirement}
              onChange={(requirement) => setAmendments(change(amendments, index, { requirement }))}
              help="As a verdict names it: ground-fault.places/kitchen"
              fault={fault(`#/amendments/${index}/requirement`)}
              required
            />
            <SelectField
              label="This place"
              value={amendment.effect}
              onChange={(effect) => setAmendments(change(amendments, index, { effect }))}
              options={EFFECTS}
            />
            <TextField
              label="From"
              type="date"
              value={amendment.from}
              onChange={(from) => setAmendments(change(amendments, index, { from }))}
              fault={fault(`#/amendments/${index}/from`)}
              required
            />
            <TextField
              label="Where it is written"
              value={amendment.source}
              onChange={(source) => setAmendments(change(amendments, index, { source }))}
              fault={fault(`#/amendments/${index}/source`)}
              required
            />
            <Button
              small
              onPress={() => setAmendments(amendments.filter((_, at) => at !== index))}
              aria-label={`Remove the change to ${amendment.requirement}`}
            >
              Remove
            </Button>
            {amendment.by && amendment.at && (
              <p className={css.signed}>
                Entered by {amendment.by}, {formatInstant(amendment.at)}
              </p>
            )}
          </div>
        ))}
        <Button
          small
          onPress={() =>
            setAmendments([...amendments, { requirement: '', effect: 'remove', from: '', source: '' }])
          }
        >
          Add a change
        </Button>
      </fieldset>
      <Fault error={save.error} />
      <Actions>
        <Button look="main" type="submit" isPending={save.isPending}>
          Save
        </Button>
      </Actions>
    </form>
  )
}
