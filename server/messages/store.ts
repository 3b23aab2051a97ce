import { type Prisma } from '../../prisma/generated/client.ts'
import type { Db } from '../db.ts'
import type { MessageCategory, MessageKind } from './categories.ts'

export interface Receiver {
  name: string
  email: string | null
  phone: string | null
  language: 'en' | 'es'
  archived: boolean
  /** Why the address is put aside: bounced, complained, asked. */
  suppressedFor: string | null
  /** The person's word on the category; null = none given. */
  allowed: boolean | null
}

export async function findReceiver(
  db: Db,
  customerId: string,
  category: MessageCategory,
): Promise<Receiver | null> {
  const [row] = await db.$queryRaw<Receiver[]>`
    SELECT c.name, c.email::text, c.phone, c.language, c.archived_at IS NOT NULL AS archived,
           s.reason AS "suppressedFor", p.allowed
      FROM customer c
      LEFT JOIN suppressed_address s ON s.email = c.email
      LEFT JOIN message_preference p ON p.customer_id = c.id AND p.category = ${category}
     WHERE c.id = ${customerId}::uuid`
  return row ?? null
}

export interface NewMessage {
  id: string
  kind: MessageKind
  category: MessageCategory
  customerId: string | null
  propertyId: string | null
  visitId: string | null
  toAddress: string
  toName: string
  language: 'en' | 'es'
  dedupeKey: string
  /** Of the sender; the Message-ID is made of it and the message's id. */
  domain: string
  context: Record<string, unknown>
  reason: string
  state: 'planned' | 'suppressed'
  lastError: string | null
  sendAfter: Date
  now: Date
}

/** @returns the id of the message of that dedupe key: this one, or the one that was there first */
export async function insertMessage(
  tx: Db,
  { domain, now, context, ...message }: NewMessage,
): Promise<string> {
  const { count } = await tx.message.createMany({
    data: {
      ...message,
      context: context as Prisma.InputJsonObject,
      messageIdHeader: `<${message.id}@${domain}>`,
      createdAt: now,
      updatedAt: now,
    },
    skipDuplicates: true,
  })
  if (count === 1) return message.id
  const first = await tx.message.findUniqueOrThrow({
    where: { dedupeKey: message.dedupeKey },
    select: { id: true },
  })
  return first.id
}
