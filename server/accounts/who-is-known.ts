import type { Changes } from '../events/changes.ts'
import type { Credential } from './store.ts'

/** However quiet the database is, nobody is let in on what was read longer ago than this. */
const KEPT_MS = 5000
const MOST = 5000

/** Who is behind a session or a token, as this process read it a moment ago. */
export interface WhoIsKnown {
  find: (key: string, now: Date, read: () => Promise<Credential | null>) => Promise<Credential | null>
  forget: () => void
}

/**
 * A screen asks ten things at once, and each of them asks who is there: it is read once. All is forgotten when the
 * database tells that a session, a token or a person changed; while it cannot be heard, nothing is kept.
 */
export function whoIsKnown(changes: Pick<Changes, 'isListening' | 'onAccess'>): WhoIsKnown {
  const known = new Map<string, { credential: Credential; until: number }>()
  let times = 0
  const forget = () => {
    times++
    known.clear()
  }
  changes.onAccess(forget)
  return {
    forget,
    find: async (key, now, read) => {
      const kept = known.get(key)
      if (kept && kept.until > performance.now() && isInForce(kept.credential, now)) return kept.credential
      const before = times
      const credential = await read()
      // What changed while it was read may not be in it.
      if (credential && times === before && changes.isListening()) {
        if (known.size >= MOST) forget()
        known.set(key, { credential, until: performance.now() + KEPT_MS })
      }
      return credential
    },
  }
}

const isInForce = ({ endsAt }: Credential, now: Date) => endsAt === null || endsAt > now
