import { timingSafeEqual } from 'node:crypto'
import type { FastifyRequest } from 'fastify'
import { sameSiteToken } from '../accounts/secrets.ts'
import type { UserActor } from '../ctx.ts'
import type { Env } from '../env.ts'
import { Problem } from '../errors.ts'
import { remembered } from '../remembered.ts'

const originOf = remembered((url) => new URL(url).origin)

const SAFE_METHODS = new Set(['GET', 'HEAD', 'OPTIONS'])

/**
 * A write that rides on a cookie must come from our own page: its Origin is the public address, or it carries the
 * token. Host is not asked: behind a proxy it may be anything.
 */
export function checkSameSite(request: FastifyRequest, env: Env, actor: UserActor): void {
  if (SAFE_METHODS.has(request.method)) return
  if (request.headers.origin !== undefined && request.headers.origin === originOf(env.publicUrl)) return
  const given = Buffer.from(String(request.headers['x-csrf-token'] ?? ''))
  const wanted = Buffer.from(sameSiteToken(env, actor.sessionId ?? ''))
  if (given.length === wanted.length && timingSafeEqual(given, wanted)) return
  throw new Problem(
    'cross-site',
    `Open the office at ${env.publicUrl}, or send X-CSRF-Token as GET /api/v1/me gives it.`,
  )
}
