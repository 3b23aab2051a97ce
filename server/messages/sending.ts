import type { Ctx } from '../ctx.ts'
import { newId } from '../ids.ts'
import { type Letter, type Mailer, MailRefused } from '../gateways/mail.ts'
import { getCompany } from '../settings/store.ts'
import { getPolicy } from '../follow-ups/policy.ts'
import { nextSendingTime } from '../follow-ups/sending-time.ts'
import { isCommercial } from './categories.ts'
import { commonFacts, gatherFacts, NothingToSay } from './facts.ts'
import { type Rendered, render } from './render/render.ts'
import { refusalOf } from './service.ts'
import * as store from './sending-store.ts'
import { findReceiver } from './store.ts'

/** Minutes between attempts. Added up they are just under 48 hours; then it is given up. */
export const PAUSES = [1, 5, 15, 30, 60, 120, 240, 480, 480, 480, 480, 480]

export type Outcome = 'sent' | 'later' | 'failed' | 'bounced' | 'suppressed' | 'cancelled' | 'not-mine'

/**
 * Sends one message: claim, render, hand over, mark. Called twice, it is sent once. Between the mail server's yes and
 * the mark lies the only moment at which a crash leads to a second copy, with the same Message-ID.
 */
export async function sendMessage(ctx: Ctx, mailer: Mailer, id: string): Promise<Outcome> {
  // Names this one attempt: the same process may come to the same message again after the lease ran out.
  const by = newId()
  const message = await store.claim(ctx.db, id, by, ctx.now())
  if (!message) return 'not-mine'
  const lay = async (to: Parameters<typeof store.release>[4], outcome: Outcome) =>
    (await store.release(ctx.db, message, by, ctx.now(), to)) ? outcome : 'not-mine'

  const refusal = await refusalNow(ctx, message)
  if (refusal) return lay({ state: 'suppressed', lastError: refusal }, 'suppressed')
  const hour = await rightHour(ctx, message)
  if (hour) return lay({ state: 'planned', sendAfter: hour }, 'later')
  let letter: Letter
  try {
    letter = await write(ctx, message, by)
  } catch (error) {
    if (error instanceof NothingToSay)
      return lay({ state: 'cancelled', lastError: error.message }, 'cancelled')
    if (error instanceof NotMine) return 'not-mine'
    ctx.log.error({ err: error, messageId: id }, 'a message could not be written')
    return lay(
      { state: 'failed', lastError: `It could not be written: ${(error as Error).message}` },
      'failed',
    )
  }
  try {
    await mailer.send(letter)
  } catch (error) {
    return refused(ctx, message, error, lay)
  }
  return lay({ state: 'sent' }, 'sent')
}

class NotMine extends Error {}

/** People change their minds, and addresses go bad, between the plan and the sending. */
async function refusalNow(ctx: Ctx, message: store.StoredMessage): Promise<string | null> {
  if (!message.customerId) return null
  const receiver = await findReceiver(ctx.db, message.customerId, message.category)
  if (!receiver) return 'The customer is not there any more.'
  // Written to the address that was theirs then; if they gave another since, that one counts.
  if (receiver.email) message.toAddress = receiver.email
  return refusalOf(receiver, message.category)
}

/** Mail that offers work and is late, because the mail server was away say, does not arrive at night. */
async function rightHour(ctx: Ctx, message: store.StoredMessage): Promise<Date | null> {
  if (!isCommercial(message.category)) return null
  const at = nextSendingTime(ctx.now(), message.zone, (await getPolicy(ctx.db)).sendingHours)
  return at > ctx.now() ? at : null
}

async function write(ctx: Ctx, message: store.StoredMessage, by: string): Promise<Letter> {
  const { calendar, calendarMethod } = message.context as {
    calendar?: string
    calendarMethod?: 'REQUEST' | 'CANCEL'
  }
  let text = keptText(message)
  if (!text) {
    text = render(message.kind, message.language, await gatherFacts(ctx, message))
    const shown = message.category === 'account' ? withoutLink(text) : text
    if (!(await store.keepText(ctx.db, message.id, by, shown, calendar ?? null))) throw new NotMine()
  }
  const company = await getCompany(ctx.db)
  const { unsubscribeUrl } = commonFacts(ctx, message, company)
  return {
    from: ctx.env.mailFrom,
    replyTo: company.email,
    to: { name: message.toName, address: message.toAddress },
    ...text,
    ...(calendar && calendarMethod && { calendar: { method: calendarMethod, text: calendar } }),
    messageId: message.messageIdHeader,
    date: ctx.now(),
    ...(unsubscribeUrl && { unsubscribeUrl }),
  }
}

/** What an earlier attempt wrote. What is due may have changed since, and a way in is not kept: those are written anew. */
function keptText({ category, attempts, subject, textBody, htmlBody }: store.StoredMessage): Rendered | null {
  const isOfTheDay =
    category === 'account' || category === 'safety' || category === 'reminder' || category === 'tips'
  if (attempts === 1 || isOfTheDay || subject === null || textBody === null || htmlBody === null) return null
  return { subject, text: textBody, html: htmlBody }
}

async function refused(
  ctx: Ctx,
  message: store.StoredMessage,
  error: unknown,
  lay: (to: Parameters<typeof store.release>[4], outcome: Outcome) => Promise<Outcome>,
): Promise<Outcome> {
  const lastError = (error as Error).message.slice(0, 1000)
  const kind = error instanceof MailRefused ? error.kind : 'soft'
  if (kind === 'hard') {
    if (message.customerId) await store.suppressAddress(ctx.db, message.toAddress, lastError, ctx.now())
    ctx.log.warn({ messageId: message.id }, 'an address does not exist; it is put aside')
    return lay({ state: 'bounced', lastError }, 'bounced')
  }
  if (kind === 'letter') return lay({ state: 'failed', lastError }, 'failed')
  const pause = PAUSES[message.attempts - 1]
  if (pause === undefined) {
    return lay({ state: 'failed', lastError: `Given up after 48 hours. ${lastError}` }, 'failed')
  }
  const sendAfter = new Date(ctx.now().getTime() + pause * 60_000)
  return lay({ state: 'planned', sendAfter, lastError }, 'later')
}

/** The office can read what was sent, but not another person's way in. */
function withoutLink({ subject, text, html }: Rendered): Rendered {
  const hide = (body: string) => body.replace(/token=[\w-]{20,}/g, 'token=…')
  return { subject, text: hide(text), html: hide(html) }
}
