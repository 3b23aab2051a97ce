import { Prisma } from '../../prisma/generated/client.ts'
import { FOLLOW_UP_KIND_IDS } from '../../trade/follow-ups/kind.ts'
import { FOLLOW_UP_KINDS } from '../../trade/follow-ups/kinds.ts'
import type { Db } from '../db.ts'
import { groupBy } from './group.ts'
import type { Change, Household, OpenFollowUp } from './household.ts'

/** Told to whoever booked or pays; everything else to the home's contact. */
const PAYER_KINDS = FOLLOW_UP_KIND_IDS.filter((kind) => FOLLOW_UP_KINDS[kind].tells === 'payer')

export const FROM = Prisma.sql`
  FROM follow_up f
  JOIN property p ON p.id = f.property_id
  LEFT JOIN finding n ON n.id = f.finding_id
  LEFT JOIN estimate x ON x.id = f.estimate_id
  LEFT JOIN visit v ON v.id = f.subject_id AND f.subject_kind = 'visit'
  LEFT JOIN property_party pp ON pp.property_id = f.property_id AND pp.is_contact AND pp.until IS NULL`
export const RECEIVER = Prisma.sql`coalesce(CASE WHEN f.kind = ANY(${PAYER_KINDS})
  THEN coalesce(x.customer_id, v.customer_id) END, pp.customer_id)`

/** Follow-ups whose notice may be due on the most advanced clock on earth, and who is to be told. */
export function listDue(
  db: Db,
  until: Date,
  propertyId?: string,
): Promise<{ id: string; receiverId: string | null }[]> {
  const mine = propertyId ? Prisma.sql`AND f.property_id = ${propertyId}::uuid` : Prisma.empty
  return db.$queryRaw`
    SELECT f.id, ${RECEIVER} AS "receiverId" ${FROM}
     WHERE f.closed_at IS NULL AND f.next_notice_on <= ${until}::date
       AND (f.state IN ('planned', 'told') OR n.severity = 'unsafe')
       AND (f.snoozed_until IS NULL OR f.snoozed_until <= ${until}::date) ${mine}
     ORDER BY 2`
}

export function listReceivers(
  db: Db,
  ids: readonly string[],
): Promise<{ id: string; receiverId: string | null }[]> {
  return db.$queryRaw`
    SELECT f.id, ${RECEIVER} AS "receiverId" ${FROM} WHERE f.closed_at IS NULL AND f.id = ANY(${[...ids]}::uuid[])`
}

type Row = OpenFollowUp & { receiverId: string | null }

/** Locks what is open for these people, in one order, so that two runs never decide about one household at once. */
export async function lockHouseholds(
  tx: Db,
  receiverIds: readonly string[],
  followUpIds: readonly string[],
  since: Date,
): Promise<{ households: Household[]; orphans: OpenFollowUp[] }> {
  const rows = await tx.$queryRaw<Row[]>`
    SELECT f.id, f.kind, f.subject_kind AS "subjectKind", f.subject_id AS "subjectId", f.property_id AS "propertyId",
           p.line1, p.time_zone AS zone, f.due_on::text AS "dueOn", n.severity, f.state, f.last_step AS "lastStep",
           f.next_notice_on::text AS "nextNoticeOn", f.snoozed_until::text AS "snoozedUntil",
           (f.kind = 'no-access-rebooking' AND EXISTS (SELECT 1 FROM message m WHERE m.visit_id = f.subject_id
             AND m.kind = 'visit-no-access')) AS "toldOfNoAccess", ${RECEIVER} AS "receiverId"
    ${FROM}
     WHERE f.closed_at IS NULL AND f.id IN (
       SELECT unnest(${[...followUpIds]}::uuid[])
       UNION
       SELECT o.id FROM property_party c JOIN follow_up o ON o.property_id = c.property_id AND o.closed_at IS NULL
        WHERE c.customer_id = ANY(${[...receiverIds]}::uuid[]) AND c.is_contact AND c.until IS NULL)
     ORDER BY f.id
       FOR UPDATE OF f`
  const wanted = new Set<string | null>(receiverIds)
  const byReceiver = groupBy(
    rows.filter((row) => wanted.has(row.receiverId)),
    (row) => row.receiverId,
  )
  const receivers = await findReceivers(tx, receiverIds, since)
  return {
    households: receivers.flatMap(({ commercialAt, ...receiver }) => {
      const followUps = byReceiver.get(receiver.id)
      return followUps ? [{ receiver, followUps, commercialAt: commercialAt.map((at) => new Date(at)) }] : []
    }),
    orphans: rows.filter((row) => row.receiverId === null),
  }
}

/**
 * Whom a batch writes to, what they wish, and when they were last offered work. What hangs on them is gathered for all of
 * them at once: asked for one by one, it costs a walk through the table each where the planner knew it as an empty one.
 */
function findReceivers(tx: Db, ids: readonly string[], since: Date) {
  return tx.$queryRaw<(Household['receiver'] & { commercialAt: string[] })[]>`
    WITH who AS MATERIALIZED (SELECT unnest(${[...ids]}::uuid[]) AS id),
    word AS MATERIALIZED (
      SELECT w.customer_id, json_object_agg(w.category, w.allowed) AS wants
        FROM who JOIN message_preference w ON w.customer_id = who.id GROUP BY 1),
    offer AS MATERIALIZED (
      SELECT m.customer_id, json_agg(coalesce(m.sent_at, m.send_after)) AS at
        FROM message m
       WHERE m.customer_id = ANY(${[...ids]}::uuid[]) AND m.created_at > ${since} AND m.category IN ('reminder', 'tips')
         AND m.state IN ('planned', 'sending', 'sent')
       GROUP BY 1)
    SELECT c.id, c.name, c.email::text, c.phone, c.language, c.archived_at IS NOT NULL AS archived,
           s.reason AS "suppressedFor", NULL::boolean AS allowed, coalesce(word.wants, '{}') AS wants,
           coalesce(offer.at, '[]') AS "commercialAt"
      FROM who JOIN customer c ON c.id = who.id
      LEFT JOIN suppressed_address s ON s.email = c.email
      LEFT JOIN word ON word.customer_id = c.id
      LEFT JOIN offer ON offer.customer_id = c.id`
}

export async function applyChanges(tx: Db, changes: readonly Change[], now: Date): Promise<void> {
  if (changes.length === 0) return
  await tx.$executeRaw`
    UPDATE follow_up f
       SET last_step = c."lastStep", next_notice_on = c."nextNoticeOn", state = c.state, version = f.version + 1,
           updated_at = ${now}::timestamptz, closed_reason = c."closedReason",
           closed_at = CASE WHEN c.state IN ('done', 'dismissed') THEN ${now}::timestamptz END
      FROM jsonb_to_recordset(${JSON.stringify(changes)}::jsonb)
        AS c(id uuid, "lastStep" text, "nextNoticeOn" date, state text, "closedReason" text)
     WHERE f.id = c.id`
}
