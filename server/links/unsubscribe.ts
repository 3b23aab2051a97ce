import { createHmac, timingSafeEqual } from 'node:crypto'
import type { Env } from '../env.ts'
import { COMMERCIAL, type MessageCategory } from '../messages/categories.ts'

/**
 * The one-click way out of a kind of mail (RFC 8058): says whose and which kind, and cannot be made up. Nothing is
 * stored for it, so it works as long as the installation keeps its secret, however old the mail.
 */
export function unsubscribeUrl(
  env: Pick<Env, 'secret' | 'publicUrl'>,
  customerId: string,
  category: MessageCategory,
): string {
  return `${env.publicUrl}/u/${unsubscribeToken(env, customerId, category)}`
}

export function unsubscribeToken(
  env: Pick<Env, 'secret'>,
  customerId: string,
  category: MessageCategory,
): string {
  const said = Buffer.concat([
    Buffer.from(customerId.replaceAll('-', ''), 'hex'),
    Buffer.of(COMMERCIAL.indexOf(category)),
  ])
  return Buffer.concat([said, seal(env, said)]).toString('base64url')
}

/** What a token says, or null when it is not one of ours. */
export function readUnsubscribeToken(
  env: Pick<Env, 'secret'>,
  token: string,
): { customerId: string; category: MessageCategory } | null {
  const bytes = Buffer.from(token, 'base64url')
  if (bytes.length !== 33 || bytes.toString('base64url') !== token) return null
  const said = bytes.subarray(0, 17)
  const category = COMMERCIAL[said[16]!]
  if (!category || !timingSafeEqual(bytes.subarray(17), seal(env, said))) return null
  const customerId = said
    .subarray(0, 16)
    .toString('hex')
    .replace(/^(.{8})(.{4})(.{4})(.{4})(.{12})$/, '$1-$2-$3-$4-$5')
  return { customerId, category }
}

/** 128 bits: nobody guesses that by asking. */
function seal(env: Pick<Env, 'secret'>, said: Buffer): Buffer {
  return createHmac('sha256', env.secret).update('unsubscribe:').update(said).digest().subarray(0, 16)
}
