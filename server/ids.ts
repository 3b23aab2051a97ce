import { v7 } from 'uuid'
import { z } from 'zod'

/** Ids are UUIDv7: ordered by time, and a client may make them, so that a retried write is the same write. */
export function newId(): string {
  return v7()
}

export const idSchema = z.uuid({ error: 'expected an id (UUID)' })
export const idParams = z.strictObject({ id: idSchema })
