import { Prisma } from '../../prisma/generated/client.ts'
import type { FollowUpKindId } from '../../trade/follow-ups/kind.ts'
import { FOLLOW_UP_KINDS } from '../../trade/follow-ups/kinds.ts'
import type { Db } from '../db.ts'
import { anywhere } from '../search/forgiving.ts'
import type { MessageListQuery, MessageState, MessageSummary } from './schema.ts'

type Row = Omit<MessageSummary, 'sendAfter' | 'sentAt' | 'openedPageAt' | 'actedAt' | 'createdAt'> & {
  sendAfter: Date
  sentAt: Date | null
  openedPageAt: Date | null
  actedAt: Date | null
  createdAt: Date
}

const COLUMNS = Prisma.sql`m.id, m.kind, m.category, m.state, m.to_address AS "toAddress", m.to_name AS "toName",
  m.subject, m.reason, m.customer_id AS "customerId", m.property_id AS "propertyId", p.line1 AS "propertyLine",
  m.visit_id AS "visitId", m.attempts, m.last_error AS "lastError", m.send_after AS "sendAfter", m.sent_at AS "sentAt",
  m.opened_page_at AS "openedPageAt", m.acted_at AS "actedAt", m.created_at AS "createdAt"`

export type MessageFilters = Omit<MessageListQuery, 'cursor' | 'limit'>

/** Newest first, from after a row on. */
export async function listMessages(
  db: Db,
  filters: MessageFilters,
  after: [string, string] | null,
  limit: number,
): Promise<MessageSummary[]> {
  const equal = (column: Prisma.Sql, value: string | undefined, type = Prisma.sql`text`) =>
    value === undefined ? Prisma.empty : Prisma.sql`AND ${column} = ${value}::${type}`
  const like = filters.search && anywhere(filters.search)
  const rows = await db.$queryRaw<Row[]>`
    SELECT ${COLUMNS} FROM message m LEFT JOIN property p ON p.id = m.property_id
     WHERE true ${equal(Prisma.sql`m.state`, filters.state)} ${equal(Prisma.sql`m.kind`, filters.kind)}
       ${equal(Prisma.sql`m.category`, filters.category)}
       ${equal(Prisma.sql`m.customer_id`, filters.customerId, Prisma.sql`uuid`)}
       ${equal(Prisma.sql`m.property_id`, filters.propertyId, Prisma.sql`uuid`)}
       ${like ? Prisma.sql`AND (m.to_name ILIKE ${like} OR m.to_address ILIKE ${like} OR m.subject ILIKE ${like} OR p.line1 ILIKE ${like})` : Prisma.empty}
       ${after ? Prisma.sql`AND (m.created_at, m.id) < (${after[0]}::timestamptz, ${after[1]}::uuid)` : Prisma.empty}
     ORDER BY m.created_at DESC, m.id DESC
     LIMIT ${limit}`
  return rows.map(summaryOf)
}

function summaryOf(row: Row): MessageSummary {
  return {
    ...row,
    sendAfter: row.sendAfter.toISOString(),
    sentAt: row.sentAt?.toISOString() ?? null,
    openedPageAt: row.openedPageAt?.toISOString() ?? null,
    actedAt: row.actedAt?.toISOString() ?? null,
    createdAt: row.createdAt.toISOString(),
  }
}

export async function findMessage(db: Db, id: string) {
  const row = await db.message.findUnique({
    where: { id },
    include: {
      property: { select: { line1: true } },
      troubles: { select: { kind: true, detail: true, at: true }, orderBy: [{ at: 'asc' }, { id: 'asc' }] },
      followUps: {
        select: {
          step: true,
          followUp: {
            select: {
              id: true,
              kind: true,
              equipment: { select: { label: true } },
              finding: { select: { text: true } },
            },
          },
        },
      },
    },
  })
  if (!row) return null
  const {
    property,
    followUps,
    troubles,
    renderedAt,
    textBody,
    htmlBody,
    context,
    leaseUntil: _until,
    leaseBy: _by,
    dedupeKey: _key,
    ...rest
  } = row
  return {
    ...summaryOf({ ...rest, state: rest.state as MessageState, propertyLine: property?.line1 ?? null }),
    language: rest.language,
    messageIdHeader: rest.messageIdHeader,
    calendar: rest.calendar,
    troubles,
    renderedAt: renderedAt?.toISOString() ?? null,
    context,
    text: textBody,
    html: htmlBody,
    followUps: followUps.map(({ step, followUp: { id: followUpId, kind, equipment, finding } }) => ({
      id: followUpId,
      kind,
      step,
      subject: equipment?.label ?? finding?.text ?? FOLLOW_UP_KINDS[kind as FollowUpKindId].office,
    })),
  }
}

export async function countByState(db: Db, since: Date): Promise<Record<string, number>> {
  const groups = await db.message.groupBy({
    by: ['state'],
    where: { createdAt: { gt: since } },
    _count: true,
  })
  return Object.fromEntries(groups.map(({ state, _count }) => [state, _count]))
}

/** Puts a message back to where sending begins. @returns false when it is in another state by now */
export async function setWaiting(
  db: Db,
  id: string,
  from: readonly MessageState[],
  now: Date,
): Promise<boolean> {
  const { count } = await db.message.updateMany({
    where: { id, state: { in: [...from] } },
    data: {
      state: 'planned',
      sendAfter: now,
      attempts: 0,
      firstTriedAt: null,
      hasTurn: false,
      lastError: null,
      updatedAt: now,
    },
  })
  return count === 1
}

export async function setCancelled(db: Db, id: string, why: string, now: Date): Promise<boolean> {
  const { count } = await db.message.updateMany({
    where: { id, state: 'planned' },
    data: { state: 'cancelled', lastError: why, updatedAt: now },
  })
  return count === 1
}

/** The receiver's customer, or the address itself where it is one of staff. */
export function liftSuppression(db: Db, email: string) {
  return db.suppressedAddress.deleteMany({ where: { email, reason: 'bounced' } })
}
