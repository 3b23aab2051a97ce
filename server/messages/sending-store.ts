import type { Language } from '../../trade/follow-ups/words.ts'
import type { Db } from '../db.ts'
import type { MessageCategory, MessageKind } from './categories.ts'
import type { Rendered } from './render/render.ts'

export interface StoredMessage {
  id: string
  kind: MessageKind
  category: MessageCategory
  customerId: string | null
  propertyId: string | null
  visitId: string | null
  toAddress: string
  toName: string
  language: Language
  messageIdHeader: string
  context: Record<string, unknown>
  subject: string | null
  textBody: string | null
  htmlBody: string | null
  attempts: number
  /** In the zone of the home, or the company's. */
  zone: string
}

/** A worker that died with a message in hand keeps it for so long. Longer than the mail server may take. */
export const LEASE_MS = 5 * 60_000

/**
 * Takes one message to be sent, so that nobody else does: due and waiting, or left behind by a worker whose lease ran
 * out. Null when it is not to be sent now.
 */
export async function claim(db: Db, id: string, by: string, now: Date): Promise<StoredMessage | null> {
  const [row] = await db.$queryRaw<StoredMessage[]>`
    UPDATE message m
       SET state = 'sending', lease_until = ${new Date(now.getTime() + LEASE_MS)}::timestamptz, lease_by = ${by},
           attempts = m.attempts + 1, updated_at = ${now}::timestamptz
      FROM (SELECT id FROM message
             WHERE id = ${id}::uuid AND (state = 'planned' AND send_after <= ${now}::timestamptz
                                         OR state = 'sending' AND lease_until < ${now}::timestamptz)
               FOR UPDATE SKIP LOCKED) mine
     WHERE m.id = mine.id
    RETURNING m.id, m.kind, m.category, m.customer_id AS "customerId", m.property_id AS "propertyId",
              m.visit_id AS "visitId", m.to_address AS "toAddress", m.to_name AS "toName", m.language,
              m.message_id_header AS "messageIdHeader", m.context, m.subject, m.text_body AS "textBody",
              m.html_body AS "htmlBody", m.attempts,
              coalesce((SELECT p.time_zone FROM property p WHERE p.id = m.property_id),
                       (SELECT c.time_zone FROM company c), 'UTC') AS zone`
  return row ?? null
}

/** Ends or lays down a message in hand. False when the lease had gone to somebody else meanwhile. */
export async function release(
  db: Db,
  message: StoredMessage,
  by: string,
  now: Date,
  to: {
    state: 'planned' | 'sent' | 'failed' | 'bounced' | 'suppressed' | 'cancelled'
    lastError?: string | null
    sendAfter?: Date
    context?: Record<string, unknown>
    textBody?: string
    htmlBody?: string
  },
): Promise<boolean> {
  const { context, ...rest } = to
  const { count } = await db.message.updateMany({
    where: { id: message.id, state: 'sending', leaseBy: by },
    data: {
      ...rest,
      ...(context && { context: context as object }),
      ...(to.state === 'sent' && { sentAt: now, lastError: null }),
      leaseUntil: null,
      leaseBy: null,
      updatedAt: now,
    },
  })
  return count === 1
}

/** Keeps what is about to be sent, so that a second attempt sends the same. */
export async function keepText(
  db: Db,
  id: string,
  by: string,
  { subject, text, html }: Rendered,
  calendar: string | null,
): Promise<boolean> {
  const { count } = await db.message.updateMany({
    where: { id, state: 'sending', leaseBy: by },
    data: { subject, textBody: text, htmlBody: html, calendar },
  })
  return count === 1
}

export async function suppressAddress(db: Db, email: string, detail: string, now: Date): Promise<void> {
  await db.suppressedAddress.createMany({
    data: [{ email, reason: 'bounced', detail: detail.slice(0, 500), createdAt: now }],
    skipDuplicates: true,
  })
}

/** Ids of messages to be rung for: due, or left behind. Oldest first. */
export async function listWaiting(db: Db, now: Date, limit: number, after: { at: Date; id: string } | null) {
  const at = after?.at ?? new Date(0)
  const id = after?.id ?? '00000000-0000-0000-0000-000000000000'
  return db.$queryRaw<{ id: string; at: Date }[]>`
    SELECT id, send_after AS at FROM message
     WHERE state IN ('planned', 'sending') AND send_after <= ${now}::timestamptz
       AND (state = 'planned' OR lease_until < ${now}::timestamptz)
       AND (send_after, id) > (${at}::timestamptz, ${id}::uuid)
     ORDER BY send_after, id
     LIMIT ${limit}`
}
