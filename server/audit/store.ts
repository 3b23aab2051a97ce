import type { Prisma } from '../../prisma/generated/client.ts'
import type { Ctx } from '../ctx.ts'
import type { Db } from '../db.ts'
import { newId } from '../ids.ts'

export interface AuditedChange {
  /** What was done, as `record.verb`: `visit.book`. */
  action: string
  subjectKind: string
  subjectId: string | null
  before?: unknown
  after?: unknown
}

/** Writes down who changed what, in the transaction of the change itself. */
export async function audit(ctx: Ctx, tx: Db, change: AuditedChange): Promise<void> {
  const { actor } = ctx
  await tx.auditEntry.create({
    data: {
      id: newId(),
      at: ctx.now(),
      actorKind: actor.kind === 'nobody' ? 'system' : actor.kind,
      actorId: actor.kind === 'user' ? actor.id : actor.kind === 'homeowner' ? actor.customerId : null,
      action: change.action,
      subjectKind: change.subjectKind,
      subjectId: change.subjectId,
      ...(change.before !== undefined && { before: plain(change.before) }),
      ...(change.after !== undefined && { after: plain(change.after) }),
      ip: ctx.ip,
      requestId: ctx.requestId,
    },
  })
}

const SECRET = /hash|secret|token|password/i

/** As JSON keeps it, without what nobody should read in a log. */
function plain(value: unknown): Prisma.InputJsonValue {
  return JSON.parse(JSON.stringify(value, (key, each) => (SECRET.test(key) ? undefined : each)))
}
