import type { FastifyBaseLogger } from 'fastify'
import type { PrismaClient } from '../prisma/generated/client.ts'
import type { Day } from '../trade/dates.ts'
import type { Role } from '../trade/permissions.ts'
import type { Env } from './env.ts'
import type { FileStore } from './gateways/files.ts'
import type { Enqueue } from './queue.ts'

export interface UserActor {
  kind: 'user'
  id: string
  role: Role
  name: string
  sessionId: string | null
}
/** Someone with a private link: one household, nothing else. */
export interface HomeownerActor {
  kind: 'homeowner'
  linkId: string
  customerId: string
  propertyId: string | null
}
export type Actor = UserActor | HomeownerActor | { kind: 'system' } | { kind: 'nobody' }

/** What each service is handed. Nothing below a route reaches for the clock, the user or the outside world. */
export interface Ctx {
  db: PrismaClient
  env: Env
  actor: Actor
  now: () => Date
  /** The calendar day in a zone: the property's, or the company's. */
  today: (zone: string) => Day
  enqueue: Enqueue
  files: FileStore
  log: FastifyBaseLogger
  /** Where a request came from, for the audit trail. */
  ip: string | null
  requestId: string | null
}

/** What stays the same from request to request. */
export type BaseCtx = Omit<Ctx, 'actor' | 'ip' | 'requestId'>

export function systemCtx(base: BaseCtx): Ctx {
  return { ...base, actor: { kind: 'system' }, ip: null, requestId: null }
}
