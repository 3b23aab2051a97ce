import { addDays, type Day } from '../../trade/dates.ts'
import { makeBaseCtx } from '../../server/base-ctx.ts'
import { type BaseCtx, type Ctx, systemCtx } from '../../server/ctx.ts'
import { planEverything } from '../../server/follow-ups/service.ts'
import { notify } from '../../server/follow-ups/notify.ts'
import { type Letter, MailRefused } from '../../server/gateways/mail.ts'
import { memoryMailer } from '../../server/gateways/mail-memory.ts'
import { sendMessage } from '../../server/messages/sending.ts'
import { issueReport } from '../../server/reports/service.ts'
import { instantAt } from '../../server/time.ts'
import { demoAnswers, demoBookings } from './answers.ts'
import { demoEstimates } from './estimates.ts'
import { asDate } from './homes.ts'
import { isWeekend } from './visits.ts'

const ZONE = 'America/New_York'
/** Reports of the last weeks were issued; those of the last days wait for somebody to read them. */
const ISSUED_FROM_DAYS = 28
const UNREAD_DAYS = 6
/** Days before today on which the letters of a week or two went out; after the second, people answered. */
const LETTER_DAYS = [44, 16, 1]
const ANSWERED_DAYS = 14
const BOOKED_DAYS = 2
/** Two addresses turn out not to exist. */
const UNKNOWN_LETTERS = [3, 11]

/**
 * What the company did by itself and by hand until this morning, through the same services as every day: reports that
 * were issued, things that fell due, letters that went out, answers that came and visits that were booked. Nothing leaves;
 * the letters are kept as sent.
 */
export async function demoOfficeWork(base: BaseCtx, today: Day): Promise<void> {
  await issueReports(base, today)
  await demoEstimates(base, (instant) => officeCtx(at(base, instant)), ZONE, today)
  const mailer = memoryMailer()
  let handedOver = 0
  mailer.before = () => {
    if (UNKNOWN_LETTERS.includes(++handedOver)) throw new MailRefused('hard', '550 5.1.1 no such mailbox')
  }
  for (const daysAgo of LETTER_DAYS) {
    mailer.letters = []
    const day = [0, 1, 2].map((more) => addDays(today, -daysAgo - more)).find((each) => !isWeekend(each))!
    const then = systemCtx(at(base, instantAt(day, '10:30', ZONE)))
    await planEverything(then)
    const { messageIds } = await notify(then)
    const planned = await base.db.message.findMany({ where: { state: 'planned' }, select: { id: true } })
    for (const id of new Set([...messageIds, ...planned.map((each) => each.id)]))
      await sendMessage(then, mailer, id)
    if (daysAgo > ANSWERED_DAYS && daysAgo < 2 * ANSWERED_DAYS) await answersCome(base, today, mailer.letters)
  }
}

async function answersCome(base: BaseCtx, today: Day, letters: readonly Letter[]): Promise<void> {
  const evening = at(base, instantAt(addDays(today, -ANSWERED_DAYS), '19:20', ZONE))
  await demoAnswers(systemCtx(evening), letters)
  const morning = at(base, instantAt(addDays(today, -BOOKED_DAYS), '09:15', ZONE))
  const { id: technicianId } = await base.db.user.findFirstOrThrow({
    where: { email: 'technician@example.com' },
    select: { id: true },
  })
  await demoBookings(await officeCtx(morning), technicianId, today)
}

/** The clock stands still there: letters that wait for their turn at a mail provider would wait for ever. */
const at = (base: BaseCtx, now: Date): BaseCtx =>
  makeBaseCtx({ ...base, now: () => now, env: { ...base.env, mailPerDomain: 0 } })

/** Somebody of the office at their desk. */
async function officeCtx(base: BaseCtx): Promise<Ctx> {
  const { id, name, role } = await base.db.user.findFirstOrThrow({ where: { email: 'office@example.com' } })
  const actor = { kind: 'user', id, name, role: role as 'office', sessionId: null } as const
  return { ...base, actor, ip: null, requestId: null }
}

async function issueReports(base: BaseCtx, today: Day): Promise<void> {
  const office = await officeCtx(base)
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
    await issueReport({ ...office, ...at(base, issuedAt) }, inspection.id, { reason: '' })
  }
}
