import type { Db } from '../db.ts'

/** Answers to repeated calls: a device may come back after weeks without signal. */
const KEYS_KEPT_DAYS = 60
const LOG_INS_KEPT_DAYS = 90
/** Pictures that broke off: whoever comes back later begins them anew. */
const UPLOADS_KEPT_DAYS = 7
const MS_PER_DAY = 86_400_000

/** Removes what has no use any more and is no record of the company. @returns how many rows went */
export async function removeStale(db: Db, now: Date): Promise<number> {
  const before = (days: number) => new Date(now.getTime() - days * MS_PER_DAY)
  const gone = [
    await db.idempotencyKey.deleteMany({ where: { createdAt: { lt: before(KEYS_KEPT_DAYS) } } }),
    await db.session.deleteMany({ where: { expiresAt: { lt: before(LOG_INS_KEPT_DAYS) } } }),
    await db.userToken.deleteMany({ where: { expiresAt: { lt: before(LOG_INS_KEPT_DAYS) } } }),
    await db.photoUpload.deleteMany({ where: { updatedAt: { lt: before(UPLOADS_KEPT_DAYS) } } }),
  ]
  return gone.reduce((sum, { count }) => sum + count, 0)
}
