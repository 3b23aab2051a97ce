import { Prisma } from '../../prisma/generated/client.ts'
import type { Language } from '../../trade/day-in-words.ts'
import type { Db } from '../db.ts'
import type { MessageCategory, MessageKind } from './categories.ts'
import type { Rendered } from './render/render.ts'
import type { Receiver } from './store.ts'

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
  /** What an earlier attempt wrote; null at the first. */
  subject: string | null
  textBody: string | null
  htmlBody: string | null
  attempts: number
  firstTriedAt: Date
  /** The receiving domain has given it its turn. */
  hasTurn: boolean
  /** Those of the homes that it tells of, or the company's. */
  zones: string[]
  /** The customer as they are now; null for a message to staff. */
  receiver: Receiver | null
}

/** A worker that died with messages in hand keeps them for so long. Longer than one letter may take at the mail server. */
export const LEASE_MS = 5 * 60_000

/**
 * Whether nobody has a message in hand any more. A lease that ends later than any could is of a worker whose clock was
 * ahead and was put right since; twice the time, because the clocks of two workers differ a little.
 */
const isLeaseOver = (now: Date, of = Prisma.empty) => Prisma.sql`
  (${of}lease_until < ${now}::timestamptz
    OR ${of}lease_until > ${new Date(now.getTime() + 2 * LEASE_MS)}::timestamptz)`

/** Messages to be taken in hand: named, or as many as that, the oldest first. */
export type Which = { ids: readonly string[] } | { most: number }

/** A message about several homes names none of them: it lies in no zone of its own. */
const ZONES_TOLD_OF = Prisma.sql`
  (SELECT array_agg(DISTINCT o.time_zone) FROM message_follow_up l JOIN follow_up f ON f.id = l.follow_up_id
     JOIN property o ON o.id = f.property_id WHERE m.property_id IS NULL AND l.message_id = m.id)`

/**
 * Takes messages to be sent, so that nobody else does: due and waiting, or left behind by a worker whose lease ran out.
 * With them comes all that is asked of their receivers, for people change their minds after the plan.
 */
export async function claim(db: Db, which: Which, by: string, now: Date): Promise<StoredMessage[]> {
  const named = 'ids' in which ? Prisma.sql`AND id = ANY(${[...which.ids]}::uuid[])` : Prisma.empty
  const most = 'most' in which ? which.most : which.ids.length
  return db.$queryRaw<StoredMessage[]>`
    WITH mine AS MATERIALIZED (
      -- Planned for the address that was theirs then; if they gave another since, that one counts.
      SELECT id, (SELECT c.email::text FROM customer c WHERE c.id = customer_id) AS email FROM message
       WHERE state IN ('planned', 'sending') AND send_after <= ${now}::timestamptz
         AND (state = 'planned' OR ${isLeaseOver(now)}) ${named}
         -- A newer letter about a visit must not overtake one that is on its way. Asked of each in its turn: as a join,
         -- it would be asked of all that wait before the first is taken.
         AND (visit_id IS NULL OR NOT EXISTS (
           SELECT FROM message o WHERE o.visit_id = message.visit_id AND o.state = 'sending'
              AND NOT ${isLeaseOver(now, Prisma.sql`o.`)}
              AND (o.created_at, o.id) < (message.created_at, message.id)))
       ORDER BY send_after, id LIMIT ${most}
         FOR UPDATE SKIP LOCKED
    ), m AS (
      UPDATE message
         SET state = 'sending', to_address = coalesce(mine.email, to_address),
             lease_until = ${new Date(now.getTime() + LEASE_MS)}::timestamptz, lease_by = ${by},
             attempts = attempts + 1, first_tried_at = coalesce(first_tried_at, ${now}::timestamptz),
             updated_at = ${now}::timestamptz
        FROM mine WHERE message.id = mine.id
      RETURNING message.id, kind, category, customer_id, property_id, visit_id, to_address, to_name, language,
                message_id_header, context, attempts, first_tried_at, has_turn, send_after,
                CASE WHEN attempts > 1 THEN subject END AS subject,
                CASE WHEN attempts > 1 THEN text_body END AS text_body,
                CASE WHEN attempts > 1 THEN html_body END AS html_body
    )
    SELECT m.id, m.kind, m.category, m.customer_id AS "customerId", m.property_id AS "propertyId",
           m.visit_id AS "visitId", m.to_address AS "toAddress", m.to_name AS "toName", m.language,
           m.message_id_header AS "messageIdHeader", m.context, m.subject, m.text_body AS "textBody",
           m.html_body AS "htmlBody", m.attempts,
           m.first_tried_at AS "firstTriedAt", m.has_turn AS "hasTurn",
           coalesce(CASE WHEN h.id IS NOT NULL THEN ARRAY[h.time_zone] END, ${ZONES_TOLD_OF}, (SELECT ARRAY[c.time_zone] FROM company c), '{UTC}') AS zones,
           CASE WHEN c.id IS NOT NULL THEN json_build_object('name', c.name, 'email', c.email, 'phone', c.phone,
             'language', c.language, 'archived', c.archived_at IS NOT NULL, 'suppressedFor', s.reason,
             'allowed', p.allowed) END AS receiver
      FROM m
      LEFT JOIN property h ON h.id = m.property_id
      LEFT JOIN customer c ON c.id = m.customer_id
      LEFT JOIN suppressed_address s ON s.email = c.email
      LEFT JOIN message_preference p ON p.customer_id = c.id AND p.category = m.category
     ORDER BY m.send_after, m.id`
}

/** Where a message in hand is laid down. */
export interface LaidDown {
  id: string
  state: 'planned' | 'sent' | 'failed' | 'bounced' | 'suppressed' | 'cancelled'
  lastError?: string | null
  sendAfter?: Date
  /** It was not even tried: the attempt does not count, and a turn that it has is kept. */
  untried?: boolean
  /** It waits for its turn at the receiving domain. */
  hasTurn?: boolean
}

/** Ends or lays down messages in hand. @returns ids of those that were still ours; a lease may have gone to somebody else */
export async function release(
  db: Db,
  by: string,
  now: Date,
  laid: readonly LaidDown[],
): Promise<ReadonlySet<string>> {
  const rows = await db.$queryRaw<{ id: string }[]>`
    WITH d AS MATERIALIZED (
      SELECT * FROM jsonb_to_recordset(${JSON.stringify(laid)}::jsonb)
        AS d(id uuid, state text, "lastError" text, "sendAfter" timestamptz, untried boolean, "hasTurn" boolean)
    ), laid AS (
      UPDATE message m
         SET state = d.state,
             last_error = CASE WHEN d.state = 'sent' THEN NULL ELSE coalesce(d."lastError", m.last_error) END,
             send_after = coalesce(d."sendAfter", m.send_after),
             sent_at = CASE WHEN d.state = 'sent' THEN ${now}::timestamptz ELSE m.sent_at END,
             bounced_at = CASE WHEN d.state = 'bounced' THEN ${now}::timestamptz ELSE m.bounced_at END,
             attempts = m.attempts - CASE WHEN d.untried THEN 1 ELSE 0 END,
             first_tried_at = CASE WHEN d.untried AND m.attempts = 1 THEN NULL ELSE m.first_tried_at END,
             has_turn = coalesce(d."hasTurn", d.untried AND m.has_turn, false),
             lease_until = NULL, lease_by = NULL, updated_at = ${now}::timestamptz
        FROM d WHERE m.id = d.id AND m.state = 'sending' AND m.lease_by = ${by}
      RETURNING m.id
    ), told AS (
      INSERT INTO message_trouble (id, message_id, kind, detail, at)
      SELECT uuid_v7(${now}::timestamptz), d.id, 'attempt', d."lastError", ${now}::timestamptz FROM d JOIN laid ON laid.id = d.id
       WHERE d."lastError" IS NOT NULL AND d.state IN ('planned', 'failed', 'bounced'))
    SELECT id FROM laid`
  return new Set(rows.map(({ id }) => id))
}

export type Text = Rendered & { id: string; calendar: string | null }

/** Keeps what is about to be sent, so that a second attempt sends the same. @returns ids of those still ours */
export async function keepTexts(
  db: Db,
  by: string,
  now: Date,
  texts: readonly Text[],
): Promise<ReadonlySet<string>> {
  if (texts.length === 0) return new Set()
  const column = (name: 'id' | 'subject' | 'text' | 'html' | 'calendar') => texts.map((each) => each[name])
  const rows = await db.$queryRaw<{ id: string }[]>`
    UPDATE message m SET subject = t.subject, text_body = t.text, html_body = t.html, calendar = t.calendar,
           rendered_at = ${now}::timestamptz
      FROM unnest(${column('id')}::uuid[], ${column('subject')}::text[], ${column('text')}::text[],
                  ${column('html')}::text[], ${column('calendar')}::text[]) AS t(id, subject, text, html, calendar)
     WHERE m.id = t.id AND m.state = 'sending' AND m.lease_by = ${by}
    RETURNING m.id`
  return new Set(rows.map(({ id }) => id))
}

/** How many wait to be rung for, counted up to a bound: due, or left behind. */
export async function countWaiting(db: Db, now: Date, most: number): Promise<number> {
  const [row] = await db.$queryRaw<[{ count: number }]>`
    SELECT count(*)::int AS count FROM (
      SELECT FROM message
       WHERE state IN ('planned', 'sending') AND send_after <= ${now}::timestamptz
         AND (state = 'planned' OR ${isLeaseOver(now)})
       LIMIT ${most}) waiting`
  return row.count
}
