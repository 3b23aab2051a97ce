import { createHash, createHmac, randomBytes } from 'node:crypto'
import { hash, verify } from '@node-rs/argon2'
import type { Env } from '../env.ts'

/** argon2id, 19 MiB, two passes: the least that OWASP's password storage guide asks for. */
const COST = { memoryCost: 19_456, timeCost: 2, parallelism: 1 }

export function hashPassword(password: string): Promise<string> {
  return hash(password, COST)
}

// Of a password that nobody has: checked for unknown people, so that the answer takes as long as for known ones.
const NOBODY =
  '$argon2id$v=19$m=19456,t=2,p=1$/A3I42j3DNtEvgT39cCkOw$0RMP9KMXNtPFnt+iBLy1o8xuSVfy28FjRhLzl8z7h94'

export async function isPassword(stored: string | null, password: string): Promise<boolean> {
  const matches = await verify(stored ?? NOBODY, password)
  return stored !== null && matches
}

/** A secret for one person's hands; only its hash is kept. */
export function makeToken(): { token: string; tokenHash: Uint8Array<ArrayBuffer> } {
  const token = randomBytes(32).toString('base64url')
  return { token, tokenHash: hashToken(token) }
}

export function hashToken(token: string): Uint8Array<ArrayBuffer> {
  return new Uint8Array(createHash('sha256').update(token).digest())
}

/** Given with `GET /me`; a page of another site cannot read it. */
export function sameSiteToken(env: Env, sessionId: string): string {
  return createHmac('sha256', env.secret).update(`same-site:${sessionId}`).digest('base64url')
}
