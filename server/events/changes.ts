import pg from 'pg'
import type { FastifyBaseLogger } from 'fastify'

/** What the database tells after each commit: which record changed. `ids` is null after a large batch. */
export interface Change {
  record: string
  ids: string[] | null
}
export interface Changes {
  subscribe: (listener: (change: Change) => void) => () => void
  /** Told when a session, a token or a person changed, and when such a word may have been missed. */
  onAccess: (listener: () => void) => void
  /** False while there is no connection on which the database could tell. */
  isListening: () => boolean
  close: () => Promise<void>
}

const RETRY_MS = 2000

/** One connection per process listens; every open screen hangs on it. Comes back by itself after a lost connection. */
export function listenForChanges(databaseUrl: string, log: FastifyBaseLogger): Changes {
  const listeners = new Set<(change: Change) => void>()
  const accessListeners = new Set<() => void>()
  const tellAccess = () => accessListeners.forEach((listener) => listener())
  let client: pg.Client | null = null
  let closed = false
  let retry: NodeJS.Timeout | undefined

  const connect = async () => {
    const next = new pg.Client({ connectionString: databaseUrl })
    next.on('notification', ({ channel, payload }) => {
      if (channel === 'watchlamp_access') return tellAccess()
      const change = JSON.parse(payload ?? '{}') as Change
      for (const listener of listeners) listener(change)
    })
    next.on('error', (error) => log.warn({ err: error }, 'lost the connection that listens for changes'))
    next.on('end', () => {
      if (client === next) client = null
      tellAccess()
      if (!closed) retry = setTimeout(() => void connect(), RETRY_MS)
    })
    try {
      await next.connect()
      await next.query('LISTEN watchlamp_change; LISTEN watchlamp_access')
      client = next
    } catch (error) {
      log.warn({ err: error }, 'cannot listen for changes yet')
    }
  }
  void connect()

  return {
    subscribe: (listener) => {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
    onAccess: (listener) => void accessListeners.add(listener),
    isListening: () => client !== null,
    close: async () => {
      closed = true
      clearTimeout(retry)
      listeners.clear()
      await client?.end()
    },
  }
}
