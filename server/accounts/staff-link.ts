import type { Env } from '../env.ts'
import { staffToken } from '../links/tokens.ts'

/** Where an invitation, a reset or the first set-up is taken up: a page of the office. */
export function staffLink(env: Env, tokenId: string): string {
  return `${env.publicUrl}/welcome?token=${staffToken(env, tokenId)}`
}
