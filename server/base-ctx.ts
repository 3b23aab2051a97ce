import type { FastifyBaseLogger } from 'fastify'
import type { PrismaClient } from '../prisma/generated/client.ts'
import type { BaseCtx } from './ctx.ts'
import type { Env } from './env.ts'
import type { FileStore } from './gateways/files.ts'
import type { Enqueue } from './queue.ts'
import { dayInZone } from './time.ts'

/** Puts together what services are handed; the clock is the machine's unless a test brings its own. */
export function makeBaseCtx(parts: {
  db: PrismaClient
  env: Env
  enqueue: Enqueue
  files: FileStore
  log: FastifyBaseLogger
  now?: () => Date
}): BaseCtx {
  const now = parts.now ?? (() => new Date())
  return { ...parts, now, today: (zone) => dayInZone(now(), zone) }
}
