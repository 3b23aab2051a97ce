import type { Db } from '../db.ts'

/** What a device said that the office never got. */
interface Unsent {
  changes: number
  photos: number
}

/** Log-ins in force, and those that were ended so that their device gives up what it holds. Last used first. */
export function listDevices(db: Db, userId: string, now: Date) {
  return db.session.findMany({
    where: { userId, OR: [{ revokedAt: null, expiresAt: { gt: now } }, { wipe: true }] },
    select: { id: true, userAgent: true, ip: true, lastSeenAt: true, wipe: true, wipedAt: true },
    orderBy: { lastSeenAt: 'desc' },
    take: 100,
  })
}

export function findDevice(db: Db, userId: string, id: string): Promise<{ userAgent: string } | null> {
  return db.session.findFirst({ where: { id, userId }, select: { userAgent: true } })
}

/** False when that was done before. */
export async function markRemoved(db: Db, id: string, now: Date): Promise<boolean> {
  const { count } = await db.session.updateMany({
    where: { id, wipe: false },
    data: { revokedAt: now, wipe: true },
  })
  return count === 1
}

/** Session → what its device had not sent when it was wiped. */
export async function listUnsent(db: Db, userId: string): Promise<Map<string, Unsent>> {
  const entries = await db.auditEntry.findMany({
    where: { action: 'device.wipe', subjectId: userId },
    select: { after: true },
    orderBy: { at: 'desc' },
    take: 100,
  })
  return new Map(
    entries.flatMap(({ after }) => {
      const said = after as { sessionId?: string; operations: number; steps: number; photos: number } | null
      if (!said?.sessionId) return []
      return [[said.sessionId, { changes: said.operations + said.steps, photos: said.photos }] as const]
    }),
  )
}
