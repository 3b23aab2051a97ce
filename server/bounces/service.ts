import { audit } from '../audit/store.ts'
import type { Ctx } from '../ctx.ts'
import { invalid, Problem } from '../errors.ts'
import { refusalKind } from '../gateways/mail.ts'
import { storableText } from '../storable-text.ts'
import type { MailReport } from './report.ts'
import type { LiftBody, Unreachable } from './schema.ts'
import * as store from './store.ts'

/** So long servers try at most before they give a letter back, and some days more. */
const DAYS_UNDER_WAY = 10

/**
 * What came back about a letter. Failed: the message came back, and an address that does not exist is put aside. Delayed:
 * noted. Complained: nothing more is written to the address. The same report twice does no harm; one about a letter that
 * is not ours is left alone. One that does not show its letter is about the only one that went to its receiver lately;
 * where there were several, it counts for the address alone. @returns whether it was about one of ours
 */
export async function recordReport(ctx: Ctx, report: MailReport): Promise<boolean> {
  const letters = await lettersOf(ctx, report)
  const [message] = letters
  if (!message) return false
  const detail = storableText([report.status, report.detail].filter(Boolean).join(' ').slice(0, 1000))
  await ctx.db.$transaction(async (tx) => {
    const now = ctx.now()
    const kind = report.kind === 'failed' ? 'bounced' : report.kind
    if (letters.length === 1) {
      await store.addTrouble(tx, { messageId: message.id, kind, detail }, now)
      if (kind === 'bounced') await store.setBounced(tx, message.id, detail, now)
    }
    if (!message.customerId) return
    if (kind === 'complained') await store.suppress(tx, message.toAddress, 'complained', detail, now)
    if (kind === 'bounced' && isAddressDead(report))
      await store.suppress(tx, message.toAddress, 'bounced', detail, now)
  })
  ctx.log.info({ messageId: message.id, report: report.kind, status: report.status }, 'mail came back')
  return true
}

async function lettersOf(ctx: Ctx, { messageId, recipient }: MailReport) {
  if (messageId) {
    const message = await store.findByMessageId(ctx.db, storableText(messageId))
    return message ? [message] : []
  }
  const since = new Date(ctx.now().getTime() - DAYS_UNDER_WAY * 86_400_000)
  return recipient ? store.listSentTo(ctx.db, storableText(recipient), since) : []
}

/**
 * Permanent, and said of the mailbox: not of a full one, a policy, our sender, or a server that could not be reached for
 * days. A report does not tell at which command it was said, so a status that says nothing does not count; what the
 * server answered may say more.
 */
function isAddressDead({ status, detail }: MailReport): boolean {
  if (!status?.startsWith('5')) return false
  const said = status === '5.0.0' ? (/\b5\.\d{1,3}\.\d{1,3}\b/.exec(detail)?.[0] ?? status) : status
  return refusalKind({ code: null, text: said }, 'DATA') === 'hard'
}

const MOST_LISTED = 500

/** Whom to phone, because no mail reaches them. */
export async function listUnreachable(ctx: Ctx): Promise<Unreachable> {
  const [rows, count] = await Promise.all([
    store.listUnreachable(ctx.db, MOST_LISTED),
    store.countUnreachable(ctx.db),
  ])
  return {
    items: rows.map((row) => ({ ...row, since: row.since.toISOString() })),
    more: Math.max(0, count - rows.length),
  }
}

/**
 * Takes an address off the list of those put aside, because somebody says that mail reaches it. What was their own wish is
 * lifted only with a word on who asked for it: it is kept in the audit log. @throws not-found, invalid-request
 */
export async function liftAddress(ctx: Ctx, { email, why }: LiftBody) {
  return ctx.db.$transaction(async (tx) => {
    const found = await store.findPutAside(tx, email)
    if (!found) throw new Problem('not-found', `${email} is not put aside; mail is sent to it.`)
    if (found.reason !== 'bounced' && why === '')
      throw invalid({
        pointer: '#/why',
        detail: 'they did not want our mail; say who asked for it, and when',
      })
    // Somebody else may have been quicker: it is done then, and written down once.
    if (await store.lift(tx, email)) {
      const change = { before: found, after: { why } }
      await audit(ctx, tx, { action: 'address.lift', subjectKind: 'address', subjectId: null, ...change })
    }
    return found
  })
}
