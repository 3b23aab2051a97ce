import { useLiveQuery } from 'dexie-react-hooks'
import { useState, useSyncExternalStore } from 'react'
import { http } from '../../shared/api/http.ts'
import { formatInstant } from '../../shared/format.ts'
import { LockSettings } from '../lock/lock-settings.tsx'
import { dropOperation, resend } from '../offline/outbox.ts'
import type { StoredOperation } from '../offline/store.ts'
import { store, syncing, useWaiting } from '../offline/use-field.ts'
import { Top } from '../parts/top.tsx'
import { Look } from './look.tsx'
import { SpaceHere } from './space-here.tsx'
import { commandWords } from './words.ts'

/** What lies on this device and what the office has: at a glance, without jargon. */
export function SyncPage() {
  const waiting = useWaiting()
  const { busy, contact } = useSyncExternalStore(syncing.subscribe, syncing.state)
  const count = (waiting?.changes ?? 0) + (waiting?.photos ?? 0)
  return (
    <>
      <Top title="Sending" back={{ place: { at: 'my-day' }, words: 'my day' }} />
      <main className="content">
        <section className="box" aria-live="polite">
          <h2>
            {count === 0 ? 'The office has everything' : `${count} on this device, not yet at the office`}
          </h2>
          <p>
            {waiting?.changes ?? 0} changes and {waiting?.photos ?? 0} pictures wait. They are safe here, also
            without signal and after the phone was off.
          </p>
          <p className="soft">
            Last contact: {waiting?.lastContact ? formatInstant(waiting.lastContact) : 'none yet'}.{' '}
            {contact === 'no-answer' && 'The office could not be reached; it is tried again by itself.'}
          </p>
          {contact === 'log-in' ? (
            <a className="press" data-look="main" href="/log-in">
              Log in again to send
            </a>
          ) : (
            <button
              type="button"
              className="press"
              data-look="main"
              disabled={busy}
              onClick={() => void syncing.now()}
            >
              {busy ? 'Sending…' : 'Send now'}
            </button>
          )}
        </section>
        <Refused />
        <SpaceHere />
        <Look />
        <LockSettings />
        <LogOut unsent={count} />
      </main>
    </>
  )
}

function Refused() {
  const operations = useLiveQuery(() => store.operations.where('state').equals('refused').sortBy('seq'))
  const photos = useLiveQuery(() => store.photos.where('state').equals('refused').toArray())
  if (!operations?.length && !photos?.length) return null
  return (
    <section className="box">
      <h2>Needs you</h2>
      <p>The office did not take these as they are. Nothing of them is lost.</p>
      <ul className="plain-list">
        {operations?.map((each) => (
          <li key={each.seq} className="fault">
            <p>
              <strong>{commandWords(each.operation)}</strong>
            </p>
            <p>{each.problem?.detail || each.problem?.title}</p>
            <div className="row">
              <button
                type="button"
                className="press"
                onClick={() => void resend(store, each.seq!).then(() => syncing.now())}
              >
                Send it again
              </button>
              <button type="button" className="press" onClick={() => saveAsFile(each)}>
                Save as a file
              </button>
              <DropButton stored={each} />
            </div>
          </li>
        ))}
        {photos?.map((each) => (
          <li key={each.id} className="fault">
            <p>
              <strong>A picture</strong>: {each.problem?.detail || each.problem?.title}
            </p>
            <button
              type="button"
              className="press"
              onClick={() =>
                void store.photos
                  .update(each.id, { state: 'waiting', problem: null })
                  .then(() => syncing.now())
              }
            >
              Send it again
            </button>
          </li>
        ))}
      </ul>
    </section>
  )
}

/** Asks once more in place: what is dropped is gone. */
function DropButton({ stored }: { stored: StoredOperation }) {
  const [asked, setAsked] = useState(false)
  return asked ? (
    <button
      type="button"
      className="press"
      data-look="danger"
      onClick={() => void dropOperation(store, stored.seq!)}
    >
      Yes, give it up
    </button>
  ) : (
    <button type="button" className="press" onClick={() => setAsked(true)}>
      Give it up
    </button>
  )
}

function saveAsFile(stored: StoredOperation): void {
  const link = document.createElement('a')
  link.href = URL.createObjectURL(new Blob([JSON.stringify(stored, null, 2)], { type: 'application/json' }))
  link.download = `unsent-${stored.id}.json`
  link.click()
}

function LogOut({ unsent }: { unsent: number }) {
  const [asked, setAsked] = useState(false)
  const logOut = async () => {
    await http.post('/log-out')
    location.assign('/log-in')
  }
  return (
    <section className="box">
      <h2>Log out</h2>
      {unsent > 0 && (
        <p className="fault">
          {unsent} things have not reached the office. They stay on this device and are sent when you log in
          here again.
        </p>
      )}
      <button
        type="button"
        className="press"
        onClick={() => (unsent === 0 || asked ? void logOut() : setAsked(true))}
      >
        {asked ? 'Log out all the same' : 'Log out'}
      </button>
    </section>
  )
}
