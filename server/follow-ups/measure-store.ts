import type { Db } from '../db.ts'

/** Tells the planner how much a large run has written: it would go on as if the tables were as small as before. */
export async function measure(db: Db): Promise<void> {
  await db.$executeRaw`ANALYZE message, follow_up`
}
