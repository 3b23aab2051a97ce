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
  context: Record<string, unknown>
  reason: string
  state: 'planned' | 'suppressed'
  lastError: string | null
  sendAfter: Date
}

/** Of whom and when messages are written. The Message-ID is made of the sender's domain and the message's id. */
export interface Origin {
  domain: string
  now: Date
}

/** The private link that a message carries. It has the message's own id, so the worker can make its address again. */
export interface MessageLink {
  purpose: 'report' | 'due' | 'visit' | 'preferences' | 'estimate'
  subjectId: string | null
  tokenHash: Buffer
  expiresAt: Date
}

/** @returns the id of the message of that dedupe key: this one, or the one that was there first */
export async function insertMessage(
  tx: Db,
  origin: Origin,
  message: NewMessage,
  link: MessageLink | null,
): Promise<string> {
  const written = await insertMessages(tx, origin, [{ row: message, link, notices: [] }])
  if (written.has(message.id)) return message.id
  const where = { dedupeKey: message.dedupeKey }
  return (await tx.message.findUniqueOrThrow({ where, select: { id: true } })).id
}

interface Written {
  row: NewMessage
  link: MessageLink | null
  notices: readonly { followUpId: string; step: string }[]
}

/**
 * Messages, their links and what they tell of, in one statement and one value: thousands of single values cost the ORM
 * more time than the database.
 * @returns ids of those that are new
 */
export async function insertMessages(
  tx: Db,
  { domain, now }: Origin,
  messages: readonly Written[],
): Promise<Set<string>> {
  if (messages.length === 0) return new Set()
  const inserted = await tx.$queryRaw<{ id: string }[]>`
    WITH given AS MATERIALIZED (
      SELECT * FROM jsonb_to_recordset(${JSON.stringify(messages.map(fieldsOf))}::jsonb) AS m(id uuid, kind text,
        category text, "customerId" uuid, "propertyId" uuid, "visitId" uuid, "toAddress" text, "toName" text,
        language text, "dedupeKey" text, context jsonb, reason text, state text, "lastError" text,
        "sendAfter" timestamptz, purpose text, "subjectId" uuid, "tokenHash" text, "expiresAt" timestamptz,
        notices jsonb)),
    fresh AS (
      INSERT INTO message (id, kind, category, customer_id, property_id, visit_id, to_address, to_name, language,
                           dedupe_key, message_id_header, context, reason, state, last_error, send_after, created_at,
                           updated_at)
      SELECT id, kind, category, "customerId", "propertyId", "visitId", "toAddress", "toName", language, "dedupeKey",
             '<' || id || '@' || ${domain} || '>', context, reason, state, "lastError", "sendAfter",
             ${now}::timestamptz, ${now}::timestamptz
        FROM given
      ON CONFLICT (dedupe_key) DO NOTHING
      RETURNING id),
    linked AS (
      INSERT INTO private_link (id, customer_id, property_id, purpose, subject_id, token_hash, expires_at, created_at)
      SELECT id, "customerId", "propertyId", purpose, "subjectId", decode("tokenHash", 'hex'), "expiresAt",
             ${now}::timestamptz
        FROM given JOIN fresh USING (id) WHERE purpose IS NOT NULL),
    told AS (
      INSERT INTO message_follow_up (message_id, follow_up_id, step)
      SELECT id, n."followUpId", n.step
        FROM given JOIN fresh USING (id)
       CROSS JOIN LATERAL jsonb_to_recordset(notices) AS n("followUpId" uuid, step text))
    SELECT id FROM fresh`
  return new Set(inserted.map(({ id }) => id))
}

const fieldsOf = ({ row, link, notices }: Written) => ({
  ...row,
  purpose: link?.purpose,
  subjectId: link?.subjectId,
  tokenHash: link?.tokenHash.toString('hex'),
  expiresAt: link?.expiresAt,
  notices,
})
