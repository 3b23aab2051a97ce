import type { Ctx } from '../server/ctx.ts'
import type { Mailer } from '../server/gateways/mail.ts'
import type { JobQueue } from '../server/queue.ts'

/** What every job is handed: it acts as the system. */
export interface Tools {
  ctx: Ctx
  mailer: Mailer
  queue: Pick<JobQueue, 'enqueueMany'>
}
