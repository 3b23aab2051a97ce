import { createHash, createHmac, timingSafeEqual } from 'node:crypto'
import type { Env } from '../env.ts'

/**
 * A secret text for a record, derived from its id: whoever holds the installation's secret (the worker, when it writes
 * an e-mail) can make it again, and the database holds only its hash. 43 letters of base64url.
 */
export function deriveToken(env: Pick<Env, 'secret'>, purpose: string, id: string): string {
  return createHmac('sha256', env.secret).update(`${purpose}:${id}`).digest('base64url')
}

/** What is stored and searched by. */
export function hashToken(token: string): Buffer {
  return createHash('sha256').update(token).digest()
}

export function isSameText(given: string, wanted: string): boolean {
  const [a, b] = [Buffer.from(given), Buffer.from(wanted)]
  return a.length === b.length && timingSafeEqual(a, b)
}

/** The secret in the one-time link of a UserToken (its hash is stored there): accounts/staff-link.ts makes the link. */
export function staffToken(env: Pick<Env, 'secret'>, userTokenId: string): string {
  return deriveToken(env, 'staff-link', userTokenId)
}
