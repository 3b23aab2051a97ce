import { createHmac, timingSafeEqual } from 'node:crypto'

// Signed calls from outside, in the manner of Standard Webhooks: `webhook-id`, `webhook-timestamp` (seconds) and
// `webhook-signature` (`v1,<base64>`, several apart by spaces while a secret is changed). HMAC-SHA-256 over
// `id.timestamp.body`; the secret is base64 behind `whsec_`.

/** Older or newer than this, a call may be one that somebody recorded. */
const WINDOW_S = 5 * 60

export interface SignedCall {
  id: string
  timestamp: string
  signature: string
  body: Buffer
}

export function signCall(secret: string, { id, timestamp, body }: Omit<SignedCall, 'signature'>): string {
  const key = Buffer.from(secret.replace(/^whsec_/, ''), 'base64')
  return `v1,${createHmac('sha256', key).update(`${id}.${timestamp}.`).update(body).digest('base64')}`
}

/** Why a call is not believed, or null. */
export function faultOfCall(secret: string, call: SignedCall, now: Date): string | null {
  if (!call.id || !call.timestamp || !call.signature)
    return 'Send the headers webhook-id, webhook-timestamp and webhook-signature.'
  const seconds = Number(call.timestamp)
  if (!/^\d{1,12}$/.test(call.timestamp) || Math.abs(now.getTime() / 1000 - seconds) > WINDOW_S)
    return 'The webhook-timestamp is more than five minutes from our clock.'
  const wanted = Buffer.from(signCall(secret, call))
  const isSigned = call.signature.split(' ').some((each) => {
    const given = Buffer.from(each)
    return given.length === wanted.length && timingSafeEqual(given, wanted)
  })
  return isSigned ? null : 'The webhook-signature does not fit the body and the secret.'
}
