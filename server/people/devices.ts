import { theUser } from '../accounts/service.ts'
import { audit } from '../audit/store.ts'
import type { Ctx } from '../ctx.ts'
import { Problem } from '../errors.ts'
import type { DeviceView } from './device-schema.ts'
import * as store from './device-store.ts'

export async function listDevices(ctx: Ctx, userId: string): Promise<DeviceView[]> {
  const sessions = await store.listDevices(ctx.db, userId, ctx.now())
  const unsent = await store.listUnsent(ctx.db, userId)
  return sessions.map(({ id, userAgent, ip, lastSeenAt, wipe, wipedAt }) => ({
    sessionId: id,
    userAgent,
    ip,
    lastSeenAt: lastSeenAt.toISOString(),
    current: id === theUser(ctx).sessionId,
    state: wipedAt ? 'removed' : wipe ? 'removing' : 'in-use',
    removedAt: wipedAt?.toISOString() ?? null,
    unsent: unsent.get(id) ?? null,
  }))
}

/**
 * Ends the log-in of a device that was lost or is not trusted: at its next contact it deletes what it holds, also what it
 * has not sent, and says how much that was. Twice does no harm.
 */
export async function removeDevice(ctx: Ctx, userId: string, sessionId: string): Promise<void> {
  if (sessionId === theUser(ctx).sessionId)
    throw new Problem('wrong-state', 'That is the browser you are in: log out instead.')
  await ctx.db.$transaction(async (tx) => {
    const session = await store.findDevice(tx, userId, sessionId)
    if (!session) throw new Problem('not-found', 'There is no such device.')
    if (!(await store.markRemoved(tx, sessionId, ctx.now()))) return
    await audit(ctx, tx, {
      action: 'device.remove',
      subjectKind: 'user',
      subjectId: userId,
      after: { sessionId, userAgent: session.userAgent },
    })
  })
}
