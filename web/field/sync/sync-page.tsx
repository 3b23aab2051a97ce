import { useState, useSyncExternalStore } from 'react'
import { http } from '../../shared/api/http.ts'
import { formatInstant } from '../../shared/format.ts'
import { LockSettings } from '../lock/lock-settings.tsx'
import type { Contact } from '../offline/sync.ts'
import { isAllSent } from '../offline/storage-space.ts'
import { store, syncing, useWaiting, type Waiting } from '../offline/use-field.ts'
import { Top } from '../parts/top.tsx'
import { Look } from './look.tsx'
import { Aside, Refused } from './refused.tsx'
import { SpaceHere } from './space-here.tsx'

const CONTACT_WORDS: Readonly<Record<Contact, string>> = {
  ok: '',
  'no-answer': 'The office could not be reached; it is tried again by itself.',
  'log-in': 'Your log-in has run out. Everything stays here until you have logged in again.',
  'other-person': 'Somebody else is logged in here. What you wrote is sent when you log in again.',
  revoked: 'The office ended the log-in of this device, and what it held was deleted.',
  fault: 'Something on this device stood in the way; it is tried again by itself.',
}

export function SyncPage() {
  const waiting = useWaiting()
  return (
    <>
      <Top title="Sending" back={{ place: { at: 'my-day' }, words: 'my day' }} />
      {/* Not known yet is not nothing: for a moment it would say that the office has everything. */}
      <main className="content">{waiting && <Sending waiting={waiting} />}</main>
    </>
  )
}

/** What lies on this device and what the office has: at a glance, without jargon. */
function Sending({ waiting }: { waiting: Waiting }) {
  const { busy, contact, picture } = useSyncExternalStore(syncing.subscribe, syncing.state)
  const count = waiting.changes + waiting.photos
  return (
    <>
      <section className="box" aria-live="polite">
        <h2>
          {count > 0
            ? `${count} on this device, not yet at the office`
            : waiting.refused
              ? 'The office did not take everything'
              : 'The office has everything'}
        </h2>
        <p>
          {count === 0
            ? 'Nothing waits on this device.'
            : `${counted(waiting.changes, 'change')} and ${counted(waiting.photos, 'picture')} wait. They are safe here, also without signal and after the phone was off.`}
        </p>
        <p className="soft">
          Last contact: {waiting.lastContact ? formatInstant(waiting.lastContact) : 'none yet'}.{' '}
          {contact && CONTACT_WORDS[contact]}
        </p>
        {picture && (
          <p>
            <label>
              Picture {picture.next} of {picture.of} is on its way{' '}
              <progress max={picture.bytes} value={picture.sent} />
            </label>{' '}
            <span className="soft" aria-hidden="true">
              {inKb(picture.sent)} of {inKb(picture.bytes)} kB
            </span>
          </p>
        )}
        {contact === 'log-in' || contact === 'revoked' ? (
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
      <Aside />
      <SpaceHere />
      <Look />
      <LockSettings />
      <LogOut unsent={count + waiting.refused} />
    </>
  )
}

const counted = (count: number, word: string) => `${count} ${word}${count === 1 ? '' : 's'}`
const inKb = (bytes: number) => Math.round(bytes / 1000)

function LogOut({ unsent }: { unsent: number }) {
  const [asked, setAsked] = useState(false)
  const logOut = async () => {
    await http.post('/log-out')
    // Nothing is left to send: whoever opens this device next finds nothing of our customers on it.
    if (await isAllSent(store)) await store.delete()
    location.assign('/log-in')
  }
  return (
    <section className="box">
      <h2>Log out</h2>
      {unsent > 0 && (
        <p className="fault">
          {counted(unsent, 'thing')} not at the office. What waits stays on this device and is sent when you
          log in here again.
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
