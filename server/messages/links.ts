import type { Ctx } from '../ctx.ts'
import { hashToken } from '../links/tokens.ts'
import { linkToken } from '../links/service.ts'
import type { MessageKind } from './categories.ts'
import type { MessageLink, NewMessage } from './store.ts'

const MS_PER_DAY = 86_400_000

/**
 * What the page behind each kind of e-mail shows, and for how long. A way out must work for 30 days after sending at
 * least (16 CFR 316.5); a report is kept at hand much longer.
 */
const PAGES: Partial<Record<MessageKind, { purpose: MessageLink['purpose']; days: number }>> = {
  'visit-booked': { purpose: 'visit', days: 180 },
  'visit-moved': { purpose: 'visit', days: 180 },
  'visit-cancelled': { purpose: 'visit', days: 90 },
  'visit-no-access': { purpose: 'visit', days: 90 },
  'visit-reminder': { purpose: 'visit', days: 90 },
  'request-received': { purpose: 'preferences', days: 90 },
  'report-issued': { purpose: 'report', days: 730 },
  'estimate-sent': { purpose: 'estimate', days: 365 },
  'unsafe-finding': { purpose: 'due', days: 180 },
  'due-reminder': { purpose: 'due', days: 180 },
  'safety-tips': { purpose: 'due', days: 180 },
}

/** The link of a message; null for those to staff. A report's message names it in `context.reportId`, an estimate's in
 *  `context.estimateId`. */
export function linkOf(ctx: Pick<Ctx, 'env' | 'now'>, message: NewMessage): MessageLink | null {
  const page = PAGES[message.kind]
  if (!page || !message.customerId) return null
  const named = (key: string) => (typeof message.context[key] === 'string' ? message.context[key] : null)
  const subjects: Partial<Record<MessageLink['purpose'], string | null>> = {
    report: named('reportId'),
    estimate: named('estimateId'),
    visit: message.visitId,
  }
  return {
    purpose: page.purpose,
    subjectId: subjects[page.purpose] ?? null,
    tokenHash: hashToken(linkToken(ctx.env, message.id)),
    expiresAt: new Date(message.sendAfter.getTime() + page.days * MS_PER_DAY),
  }
}
