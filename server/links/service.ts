import type { Env } from '../env.ts'
import { deriveToken } from './tokens.ts'

/** The secret of a private link, from its id. */
export function linkToken(env: Pick<Env, 'secret'>, linkId: string): string {
  return deriveToken(env, 'link', linkId)
}

/** The address of the page behind a private link. */
export function linkUrl(env: Pick<Env, 'secret' | 'publicUrl'>, linkId: string): string {
  return `${env.publicUrl}/h/${linkToken(env, linkId)}`
}
