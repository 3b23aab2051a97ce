import { readMailReport } from '../../server/bounces/report.ts'
import { recordReport } from '../../server/bounces/service.ts'
import { isDatabaseAway, sqlFault } from '../../server/db.ts'
import { type Reading, readMailbox } from '../../server/gateways/mailbox-imap.ts'
import type { Tools } from '../tools.ts'

/**
 * What came back to the mailbox for bounces, where there is one. A mail that cannot be read, or says what cannot be kept,
 * is flagged there and stops no other; one that a fault of ours kept from being written down stays unread.
 */
export async function readBouncesJob({ ctx }: Tools): Promise<void> {
  const { bounceImapUrl } = ctx.env
  if (!bounceImapUrl) return
  const faults: unknown[] = []
  await readMailbox(bounceImapUrl, async (source, uid) => {
    const unreadable = (err: unknown): Reading => {
      ctx.log.error({ err, uid }, 'a mail in the mailbox for bounces cannot be read; it is flagged there')
      return 'unreadable'
    }
    const reports = await readMailReport(source).catch((error: Error) => error)
    if (reports instanceof Error) return unreadable(reports)
    try {
      for (const report of reports) await recordReport(ctx, report)
      return 'read'
    } catch (error) {
      if (isDatabaseAway(error)) throw error
      if (isRefusedValue(error)) return unreadable(error)
      faults.push(error)
      return 'later'
    }
  })
  if (faults.length > 0) throw faults[0]
}

/** Class 22 of PostgreSQL's codes: the value is at fault, and would be the next time. */
const isRefusedValue = (error: unknown) => sqlFault(error)?.code.startsWith('22') ?? false
