import type { Db } from '../db.ts'

/** Everything of a letter that one in its place needs. */
export function findWhole(db: Db, id: string) {
  return db.message.findUnique({
    where: { id },
    include: {
      followUps: { select: { followUp: { select: { property: { select: { timeZone: true } } } } } },
      property: { select: { timeZone: true } },
      visit: { select: { state: true } },
    },
  })
}
export type WholeMessage = NonNullable<Awaited<ReturnType<typeof findWhole>>>

export function findByKey(db: Db, dedupeKey: string) {
  return db.message.findUnique({
    where: { dedupeKey },
    select: { id: true, createdAt: true, context: true },
  })
}

/** What the one told of, the other tells of, too. */
export async function copyNotices(tx: Db, from: string, to: string): Promise<void> {
  await tx.$executeRaw`
    INSERT INTO message_follow_up (message_id, follow_up_id, step)
    SELECT ${to}::uuid, follow_up_id, step FROM message_follow_up WHERE message_id = ${from}::uuid`
}
