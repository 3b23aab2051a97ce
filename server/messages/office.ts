import { z } from 'zod'
import { theUser } from '../accounts/service.ts'
import { audit } from '../audit/store.ts'
import { everyPage } from '../csv.ts'
import type { Ctx } from '../ctx.ts'
import { Problem } from '../errors.ts'
import { idSchema, newId } from '../ids.ts'
import { findLinkOf } from '../links/office.ts'
import { decodeCursor, type Page, toPage } from '../paging.ts'
import { getCompany } from '../settings/store.ts'
import { currentWordings, write } from '../wording/current.ts'
import { findByKey } from './again-store.ts'
import { againKey, againOf } from './again-words.ts'
import { sendAgain } from './again.ts'
import { MESSAGE_CATEGORIES, MESSAGE_KINDS, type MessageKind } from './categories.ts'
import { commonFacts } from './facts.ts'
import { lifeOf } from './life.ts'
import * as store from './list-store.ts'
import { sampleFacts } from './sample.ts'
import type {
  AgainBody,
  MessageListQuery,
  MessageNumbers,
  MessagePreview,
  MessageState,
  MessageSummary,
  MessageView,
} from './schema.ts'

const sortValues = (row: MessageSummary): [string, string] => [row.createdAt, row.id]

export async function listMessages(
  ctx: Ctx,
  { cursor, limit, ...filters }: MessageListQuery,
): Promise<Page<MessageSummary>> {
  const after = decodeCursor(cursor, z.tuple([z.iso.datetime(), idSchema]))
  return toPage(await store.listMessages(ctx.db, filters, after, limit + 1), limit, sortValues)
}

export function everyMessage(ctx: Ctx, filters: store.MessageFilters): AsyncGenerator<MessageSummary[]> {
  return everyPage(
    (after: [string, string] | null, limit) => store.listMessages(ctx.db, filters, after, limit),
    sortValues,
  )
}

const DAYS_COUNTED = 30
const STATES: readonly MessageState[] = [
  'planned',
  'sending',
  'sent',
  'failed',
  'bounced',
  'suppressed',
  'cancelled',
]

export async function countMessages(ctx: Ctx): Promise<MessageNumbers> {
  const counts = await store.countByState(ctx.db, new Date(ctx.now().getTime() - DAYS_COUNTED * 86_400_000))
  return Object.fromEntries(STATES.map((state) => [state, counts[state] ?? 0])) as MessageNumbers
}

/** Given up, come back or held back: what people may send again once the cause is mended. */
const RESENDABLE: readonly MessageState[] = ['failed', 'bounced', 'suppressed', 'cancelled']

export async function readMessage(ctx: Ctx, id: string): Promise<MessageView> {
  const found = await store.findMessage(ctx.db, id)
  if (!found) throw new Problem('not-found', 'There is no such message.')
  const { troubles, renderedAt, context, ...message } = found
  const isOut = message.state === 'sent' || message.state === 'bounced'
  const [link, next] = await Promise.all([findLinkOf(ctx, id), findByKey(ctx.db, againKey(id))])
  const isDead = link !== null && link.state !== 'open'
  return {
    ...message,
    language: message.language as MessageView['language'],
    life: lifeOf({
      ...{ ...message, troubles, renderedAt, next, again: againOf(context) },
      withdrawnAt: link?.withdrawnAt ?? null,
    }),
    link:
      link && isOut ? { state: link.state, expiresAt: link.expiresAt, lastSeenAt: link.lastSeenAt } : null,
    // A letter whose link is dead would go out with a dead link.
    mayResend: RESENDABLE.includes(message.state) && !isDead && next === null,
    mayCancel: message.state === 'planned',
    maySendAgain: link !== null && next === null && (isOut || (isDead && RESENDABLE.includes(message.state))),
  }
}

/** @returns the letter that takes its place */
export async function sendMessageAgain(ctx: Ctx, id: string, body: AgainBody): Promise<MessageView> {
  return readMessage(ctx, await sendAgain(ctx, id, body))
}

/** Tries once more. An address that came back is taken off the list of those put aside: somebody says it works. */
export async function resendMessage(ctx: Ctx, id: string): Promise<MessageView> {
  const before = await readMessage(ctx, id)
  if (before.toAddress === '')
    throw new Problem('wrong-state', 'There is no address to send it to; add one to the customer first.')
  if (RESENDABLE.includes(before.state) && !before.mayResend)
    throw new Problem('wrong-state', 'Its link answers no more: send it again with a new link.')
  await ctx.db.$transaction(async (tx) => {
    if (before.state === 'bounced') await store.liftSuppression(tx, before.toAddress)
    if (!(await store.setWaiting(tx, id, RESENDABLE, ctx.now()))) {
      throw new Problem(
        'wrong-state',
        'Only a message that failed, came back or was held back can be sent again.',
      )
    }
    await audit(ctx, tx, { action: 'message.resend', subjectKind: 'message', subjectId: id })
  })
  await ctx.enqueue('send-message', { messageId: id })
  return readMessage(ctx, id)
}

export async function cancelMessage(ctx: Ctx, id: string): Promise<MessageView> {
  const { name } = theUser(ctx)
  await readMessage(ctx, id)
  await ctx.db.$transaction(async (tx) => {
    if (!(await store.setCancelled(tx, id, `Cancelled by ${name}.`, ctx.now()))) {
      throw new Problem('wrong-state', 'It is too late: the message is on its way or its end is known.')
    }
    await audit(ctx, tx, { action: 'message.cancel', subjectKind: 'message', subjectId: id })
  })
  return readMessage(ctx, id)
}

export function listTemplates() {
  return Object.entries(MESSAGE_KINDS).map(([kind, category]) => ({
    kind,
    category,
    categoryTitle: MESSAGE_CATEGORIES[category],
  }))
}

/** A kind of letter with made-up facts, under the company's own name. Its links lead nowhere. */
export async function previewTemplate(
  ctx: Ctx,
  kind: MessageKind,
  language: 'en' | 'es',
): Promise<MessagePreview> {
  const somebody = { id: newId(), customerId: newId(), category: MESSAGE_KINDS[kind], toName: 'Robin Vale' }
  const common = commonFacts(ctx, somebody, await getCompany(ctx.db))
  const wordings = await currentWordings(ctx)
  const { subject, html, text } = write(
    wordings(kind, language),
    kind,
    language,
    sampleFacts(common, kind, language),
  )
  return { subject, html, text, calendar: null }
}
