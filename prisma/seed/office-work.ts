import { addDays, type Day } from '../../trade/dates.ts'
import { type BaseCtx, type Ctx, systemCtx } from '../../server/ctx.ts'
import { planEverything } from '../../server/follow-ups/service.ts'
import { notify } from '../../server/follow-ups/notify.ts'
import { memoryMailer } from '../../server/gateways/mail-memory.ts'
import { sendMessage } from '../../server/messages/sending.ts'
import { issueReport } from '../../server/reports/service.ts'
import { instantAt } from '../../server/time.ts'
import { asDate } from './homes.ts'
import { isWeekend } from './visits.ts'

const ZONE = 'America/New_York'
/** Reports of the last weeks were issued; those of the last days wait for somebody to read them. */
const ISSUED_FROM_DAYS = 28
const UNREAD_DAYS = 6
/** Days before today on which the letters of a week or two went out. */
const LETTER_DAYS = [44, 16, 1]

/**
 * What the company did by itself and by hand until this morning, through the same services as every day: reports that
 * were issued, things that fell due, letters that went out. Nothing leaves; the letters are kept as sent.
 */
export async function demoOfficeWork(base: BaseCtx, today: Day): Promise<void> {
  await issueReports(base, today)
  const mailer = memoryMailer()
  for (const daysAgo of LETTER_DAYS) {
    const day = [0, 1, 2].map((more) => addDays(today, -daysAgo - more)).find((each) => !isWeekend(each))!
    const then = systemCtx(at(base, instantAt(day, '10:30', ZONE)))
    await planEverything(then)
    const { messageIds } = await notify(then)
    const planned = await base.db.message.findMany({ where: { state: 'planned' }, select: { id: true } })
    for (const id of new Set([...messageIds, ...planned.map((each) => each.id)]))
      await sendMessage(then, mailer, id)
  }
}

const at = (base: BaseCtx, now: Date): BaseCtx => ({ ...base, now: () => now })

async function issueReports(base: BaseCtx, today: Day): Promise<void> {
  const { id, name, role } = await base.db.user.findFirstOrThrow({ where: { email: 'office@example.com' } })
  const inspections = await base.db.inspection.findMany({
    where: {
      completedOn: {
        gte: asDate(addDays(today, -ISSUED_FROM_DAYS)),
        lte: asDate(addDays(today, -UNREAD_DAYS)),
      },
    },
    select: { id: true, completedAt: true },
    orderBy: { completedAt: 'asc' },
  })
  for (const inspection of inspections) {
    // The morning after.
    const issuedAt = new Date(inspection.completedAt!.getTime() + 16 * 3_600_000)
    const ctx: Ctx = {
      ...at(base, issuedAt),
      actor: { kind: 'user', id, name, role: role as 'office', sessionId: null },
      ip: null,
      requestId: null,
    }
    await issueReport(ctx, inspection.id, { reason: '' })
  }
}
