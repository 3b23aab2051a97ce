import type { Ctx } from '../ctx.ts'
import type { Db } from '../db.ts'
import { newId } from '../ids.ts'
import type { MessageCategory, MessageKind } from './categories.ts'
import { linkOf } from './links.ts'
import { refusalOf } from './refusal.ts'
import {
  findReceiver,
  insertMessage,
  insertMessages,
  type NewMessage,
  type Origin,
  type Receiver,
} from './store.ts'

/** A message to a customer. `context` holds ids and facts that the template is rendered from, never a token. */
export interface PlannedMessage {
  /** Where the caller made it; else a new one. */
  id?: string
  kind: MessageKind
  category: MessageCategory
  customerId: string
  propertyId?: string | null
  visitId?: string | null
  /** The same cause gives the same key: planned twice, it is one message. */
  dedupeKey: string
  context?: Record<string, unknown>
  /** Why it exists, in words for the office. */
  reason: string
  sendAfter?: Date
}

/**
 * Writes a message in the transaction of its cause. One that may not go out is written too, as `suppressed`, so that
 * the office sees why. After the commit the caller may ring: `ctx.enqueue('send-message', { messageId })`; else the
 * sweep finds it within a minute.
 * @returns its id, the same for the same dedupeKey; null when the customer has no e-mail
 */
export async function planMessage(ctx: Ctx, tx: Db, planned: PlannedMessage): Promise<string | null> {
  const receiver = await findReceiver(tx, planned.customerId, planned.category)
  if (!receiver?.email) return null
  const refusal = refusalOf(receiver, planned.category)
  const row: NewMessage = {
    id: planned.id ?? newId(),
    kind: planned.kind,
    category: planned.category,
    customerId: planned.customerId,
    propertyId: planned.propertyId ?? null,
    visitId: planned.visitId ?? null,
    toAddress: receiver.email,
    toName: receiver.name,
    language: receiver.language,
    dedupeKey: planned.dedupeKey,
    context: planned.context ?? {},
    reason: planned.reason,
    state: refusal ? 'suppressed' : 'planned',
    lastError: refusal,
    sendAfter: planned.sendAfter ?? ctx.now(),
  }
  return insertMessage(tx, originOf(ctx), row, linkOf(ctx, row))
}

/** What was decided about a household, as messages with their links to the follow-ups that they tell of. */
export async function insertNotices<
  Notice extends Pick<
    NewMessage,
    'id' | 'kind' | 'category' | 'propertyId' | 'visitId' | 'dedupeKey' | 'reason' | 'sendAfter'
  > & {
    receiver: Receiver & { id: string }
    refusal: string | null
    notices: readonly { followUpId: string; step: string }[]
  },
>(ctx: Ctx, tx: Db, notices: readonly Notice[]): Promise<Notice[]> {
  const rows = notices.map((each) => {
    const row: NewMessage = {
      id: each.id,
      kind: each.kind,
      category: each.category,
      customerId: each.receiver.id,
      propertyId: each.propertyId,
      visitId: each.visitId,
      toAddress: each.receiver.email ?? '',
      toName: each.receiver.name,
      language: each.receiver.language,
      dedupeKey: each.dedupeKey,
      context: {},
      reason: each.reason,
      state: each.refusal ? 'suppressed' : 'planned',
      lastError: each.refusal,
      sendAfter: each.sendAfter,
    }
    return { row, link: linkOf(ctx, row), notices: each.notices }
  })
  const written = await insertMessages(tx, originOf(ctx), rows)
  return notices.filter((each) => written.has(each.id))
}

/** A message to a member of staff: invitation, password reset, the test of any letter. `context.tokenId` names the
 *  UserToken; the link is made when it is sent, so that no way in lies about in the database. */
export function planStaffMessage(
  ctx: Ctx,
  tx: Db,
  planned: {
    kind: MessageKind
    language?: 'en' | 'es'
    to: { email: string; name: string }
    dedupeKey: string
    context: Record<string, unknown>
    reason: string
  },
): Promise<string> {
  const row: NewMessage = {
    id: newId(),
    kind: planned.kind,
    category: 'account',
    customerId: null,
    propertyId: null,
    visitId: null,
    toAddress: planned.to.email,
    toName: planned.to.name,
    language: planned.language ?? 'en',
    dedupeKey: planned.dedupeKey,
    context: planned.context,
    reason: planned.reason,
    state: 'planned',
    lastError: null,
    sendAfter: ctx.now(),
  }
  return insertMessage(tx, originOf(ctx), row, null)
}

const originOf = (ctx: Ctx): Origin => ({ domain: senderDomain(ctx.env.mailFrom), now: ctx.now() })

/** The domain that Message-IDs are made under: the sender's. */
export function senderDomain(mailFrom: string): string {
  return /@([^>\s]+)/.exec(mailFrom)?.[1] ?? 'localhost'
}
