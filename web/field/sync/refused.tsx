import { useLiveQuery } from 'dexie-react-hooks'
import { useId, useState } from 'react'
import type { EquipmentKind } from '../../../trade/equipment.ts'
import { formatInstant } from '../../shared/format.ts'
import { resend, resendPhoto, setAside } from '../offline/outbox.ts'
import type { StoredOperation, StoredPhoto, StoredStep } from '../offline/store.ts'
import { store, syncing } from '../offline/use-field.ts'
import { FieldInput } from '../parts/field-input.tsx'
import { mendable, mended } from './mending.ts'
import { commandWords, STEP_WORDS } from './words.ts'

/** What the office did not take: opened, put right and sent again, or set aside with a reason. Nothing goes by itself. */
export function Refused() {
  const operations = useLiveQuery(() => store.operations.where('state').equals('refused').sortBy('seq'))
  const photos = useLiveQuery(() => store.photos.where('state').equals('refused').toArray())
  const steps = useLiveQuery(() => store.steps.where('state').equals('refused').sortBy('seq'))
  if (!operations?.length && !photos?.length && !steps?.length) return null
  return (
    <section className="box">
      <h2>Needs you</h2>
      <p>The office did not take these as they are. They stay here until you decide.</p>
      <ul className="plain-list">
        {operations?.map((each) => (
          <RefusedChange key={each.seq} stored={each} />
        ))}
        {photos?.map((each) => (
          <RefusedPicture key={each.id} photo={each} />
        ))}
        {steps?.map((each) => (
          <RefusedStep key={each.seq} step={each} />
        ))}
      </ul>
    </section>
  )
}

const sendNow = () => void syncing.now()

function RefusedChange({ stored }: { stored: StoredOperation }) {
  const visit = useLiveQuery(() => store.visits.get(stored.visitId), [stored.visitId])
  const [doing, setDoing] = useState<'nothing' | 'mending' | 'setting-aside'>('nothing')
  const toggle = (next: typeof doing) => setDoing(doing === next ? 'nothing' : next)
  const title = commandWords(stored.operation)
  return (
    <li className="fault">
      <h3>{title}</h3>
      <p className="soft">
        {visit && `${visit.visit.property.line1}, `}written {formatInstant(stored.operation.at)}
      </p>
      <p>{stored.problem?.detail || stored.problem?.title}</p>
      <div className="row">
        <button
          type="button"
          className="press"
          aria-expanded={doing === 'mending'}
          onClick={() => toggle('mending')}
        >
          Open and change
        </button>
        <button type="button" className="press" onClick={() => void resend(store, stored.seq!).then(sendNow)}>
          Send it again
        </button>
        <button
          type="button"
          className="press"
          aria-expanded={doing === 'setting-aside'}
          onClick={() => toggle('setting-aside')}
        >
          Set aside
        </button>
      </div>
      {doing === 'mending' && <Mending stored={stored} kindOf={kindIn(visit?.visit.equipment ?? [])} />}
      {doing === 'setting-aside' && <SettingAside stored={stored} />}
    </li>
  )
}

const kindIn = (equipment: readonly { id: string; kind: string }[]) => (id: string) =>
  (equipment.find((each) => each.id === id)?.kind ?? null) as EquipmentKind | null

/** Everything that was recorded, each value open to be put right. */
function Mending({
  stored,
  kindOf,
}: {
  stored: StoredOperation
  kindOf: (id: string) => EquipmentKind | null
}) {
  const [operation, setOperation] = useState(stored.operation)
  const values = mendable(operation, kindOf)
  return (
    <div className="box">
      {values.length === 0 && (
        <p>There is nothing to change in it. Send it again, or set it aside and record it anew.</p>
      )}
      {values.map(({ path, field, value }) => (
        <FieldInput
          key={path.join('.')}
          field={field}
          value={value}
          onKeep={(given) => setOperation((now) => mended(now, path, given))}
        />
      ))}
      <div className="row">
        {values.length > 0 && (
          <button
            type="button"
            className="press"
            data-look="main"
            onClick={() => void resend(store, stored.seq!, operation).then(sendNow)}
          >
            Send it with these changes
          </button>
        )}
        <button type="button" className="press" onClick={() => saveAsFile(stored)}>
          Save as a file
        </button>
      </div>
    </div>
  )
}

function SettingAside({ stored }: { stored: StoredOperation }) {
  const id = useId()
  const [reason, setReason] = useState('')
  return (
    <form
      className="box"
      onSubmit={(event) => {
        event.preventDefault()
        if (reason.trim() !== '') void setAside(store, stored.seq!, reason.trim())
      }}
    >
      <label htmlFor={id}>Why it is not needed</label>
      <input
        id={id}
        value={reason}
        maxLength={500}
        required
        onChange={(event) => setReason(event.target.value)}
      />
      <button type="submit" className="press">
        Set it aside
      </button>
    </form>
  )
}

function RefusedPicture({ photo }: { photo: StoredPhoto }) {
  const again = (change: Partial<StoredPhoto> = {}) => void resendPhoto(store, photo.id, change).then(sendNow)
  return (
    <li className="fault">
      <h3>A picture</h3>
      <p className="soft">taken {formatInstant(photo.takenAt)}</p>
      <p>{photo.problem?.detail || photo.problem?.title}</p>
      <div className="row">
        <button type="button" className="press" onClick={() => again()}>
          Send it again
        </button>
        {photo.findingId && (
          <button type="button" className="press" onClick={() => again({ findingId: null })}>
            Send it without the finding
          </button>
        )}
        {photo.subjectId && (
          <button type="button" className="press" onClick={() => again({ findingId: null, subjectId: null })}>
            Send it for the home as a whole
          </button>
        )}
      </div>
    </li>
  )
}

function RefusedStep({ step }: { step: StoredStep }) {
  return (
    <li className="fault">
      <h3>{STEP_WORDS[step.step]}</h3>
      <p>{step.problem?.detail || step.problem?.title}</p>
      <div className="row">
        <button
          type="button"
          className="press"
          onClick={() =>
            void store.steps.update(step.seq!, { state: 'waiting', problem: null }).then(sendNow)
          }
        >
          Send it again
        </button>
        <button type="button" className="press" onClick={() => void store.steps.delete(step.seq!)}>
          It is settled otherwise
        </button>
      </div>
    </li>
  )
}

/** What a person said is not to be sent: still readable, and can be sent after all. */
export function Aside() {
  const aside = useLiveQuery(() => store.operations.where('state').equals('aside').sortBy('seq'))
  if (!aside?.length) return null
  return (
    <section className="box">
      <h2>Set aside</h2>
      <ul className="plain-list">
        {aside.map((each) => (
          <li key={each.seq}>
            <h3>{commandWords(each.operation)}</h3>
            <p>
              {each.aside?.reason} <span className="soft">{each.aside && formatInstant(each.aside.at)}</span>
            </p>
            <button
              type="button"
              className="press"
              onClick={() => void resend(store, each.seq!).then(sendNow)}
            >
              Send it after all
            </button>
          </li>
        ))}
      </ul>
    </section>
  )
}

function saveAsFile(stored: StoredOperation): void {
  const link = document.createElement('a')
  link.href = URL.createObjectURL(new Blob([JSON.stringify(stored, null, 2)], { type: 'application/json' }))
  link.download = `unsent-${stored.id}.json`
  link.click()
}
