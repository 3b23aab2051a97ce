import { v7 } from 'uuid'
import { z } from 'zod'

/**
 * Ids are UUIDv7: ordered by time, and a client may make them, so that a retried write is the same write. Those of one
 * millisecond count up, RFC 9562 §6.2 method 1.
 */
export function newId(): string {
  const random = sixteenBytes()
  const now = Date.now()
  if (now > last.msecs) last = { msecs: now, seq: Buffer.from(random).readUInt32BE(6) >>> 1 }
  else last.seq++
  return v7({ random, ...last })
}

let last = { msecs: 0, seq: 0 }

/** A stock of random bytes: asked for an id at a time, the system takes longer for them than all else for the id. */
const stock = new Uint8Array(16 * 256)
let used = stock.length

function sixteenBytes(): Uint8Array {
  if (used === stock.length) {
    crypto.getRandomValues(stock)
    used = 0
  }
  return stock.subarray(used, (used += 16))
}

export const idSchema = z.uuid({ error: 'expected an id (UUID)' })
export const idParams = z.strictObject({ id: idSchema })
