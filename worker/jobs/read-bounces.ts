import { readMailReport } from '../../server/bounces/report.ts'
import { recordReport } from '../../server/bounces/service.ts'
import { readMailbox } from '../../server/gateways/mailbox-imap.ts'
import type { Tools } from '../tools.ts'

/** What came back to the mailbox for bounces, where there is one. */
export async function readBouncesJob({ ctx }: Tools): Promise<void> {
  const { bounceImapUrl } = ctx.env
  if (!bounceImapUrl) return
  await readMailbox(bounceImapUrl, async (source) => {
    for (const report of await readMailReport(source)) await recordReport(ctx, report)
  })
}
