import { Prisma } from '../../prisma/generated/client.ts'
import type { Day } from '../../trade/dates.ts'
import type { FollowUpKindId } from '../../trade/follow-ups/kind.ts'
import type { Severity } from '../../trade/verdict.ts'
import type { Db } from '../db.ts'
import { NOT_ARRIVED_OF_ROW } from './arrival-store.ts'
import { FROM, RECEIVER } from './household-store.ts'
import type { FollowUpState } from './household.ts'
import type { FollowUpSummary, GroupsQuery, Tab, WorklistFilters, WorklistGroup } from './schema.ts'
import { conditions, isFirst, LISTED, STREET, TAB, TODAY } from './worklist-conditions.ts'

/** A row of the worklist before words are put to it. */
export type WorklistRow = Omit<FollowUpSummary, 'kindTitle' | 'task' | 'next' | 'reason' | 'subject'> & {
  kind: FollowUpKindId
  dueOn: Day
  severity: Severity | null
  state: FollowUpState
  label: string | null
  estimateNumber: number | null
  reason: string
  receiverId: string | null
  /** Days past its due date on the day on which it was opened; negative when that was before. */
  overdueWhenSeen: number
}

const instant = (column: Prisma.Sql) =>
  Prisma.sql`to_char(${column} AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"')`

const select = (now: Date, where: Prisma.Sql, order: Prisma.Sql, limit: number) => Prisma.sql`
  SELECT r.*, c.name AS "customerName", c.phone AS "customerPhone", c.email::text AS "customerEmail",
         c.language AS "customerLanguage",
         r."receiverId" AS "customerId", m.id AS "messageId", m.state AS "messageState",
         ${instant(Prisma.sql`m.sent_at`)} AS "messageSentAt", coalesce(s.sent, 0)::int AS "messagesSent",
         ${NOT_ARRIVED_OF_ROW} AS "notArrived",
         ${instant(Prisma.sql`k.at`)} AS "lastCallAt", k.outcome AS "lastCallOutcome"
    FROM (
      SELECT f.id, f.version, f.kind, f.subject_kind AS "subjectKind", f.subject_id AS "subjectId",
             f.due_on::text AS "dueOn", ${TODAY} - f.due_on AS "overdueDays", f.assumed, f.reason, f.state,
             n.severity, f.last_step AS "lastStep", f.next_notice_on::text AS "nextNoticeOn",
             f.snoozed_until::text AS "snoozedUntil", ${instant(Prisma.sql`f.closed_at`)} AS "closedAt",
             f.closed_reason AS "closedReason", f.request_id AS "requestId", f.visit_id AS "visitId",
             (f.created_at AT TIME ZONE p.time_zone)::date - f.due_on AS "overdueWhenSeen",
             f.property_id AS "propertyId", p.line1, p.city, p.postcode, p.time_zone AS "timeZone",
             coalesce(e.label, n.text) AS label, x.number AS "estimateNumber", ${RECEIVER} AS "receiverId"
        ${FROM} LEFT JOIN equipment e ON e.id = f.equipment_id
        CROSS JOIN (SELECT ${now}::timestamptz AS now_at) t
       WHERE ${where}
       ORDER BY ${order}
       LIMIT ${limit}) r
    LEFT JOIN customer c ON c.id = r."receiverId"
    LEFT JOIN LATERAL (SELECT w.id, w.state, w.sent_at, w.bounced_at, w.updated_at, w.last_error,
                               w.opened_page_at, w.acted_at
                         FROM message_follow_up l JOIN message w ON w.id = l.message_id
                        WHERE l.follow_up_id = r.id ORDER BY w.created_at DESC, w.id DESC LIMIT 1) m ON true
    LEFT JOIN LATERAL (SELECT count(*) AS sent FROM message_follow_up l JOIN message w ON w.id = l.message_id
                        WHERE l.follow_up_id = r.id AND w.state = 'sent' AND ${isFirst(Prisma.sql`w`)}) s ON true
    LEFT JOIN LATERAL (SELECT o.at, o.outcome FROM call_note o WHERE o.follow_up_id = r.id
                        ORDER BY o.at DESC LIMIT 1) k ON true`

/** Open ones by due date, overdue first; ended ones with the latest first. */
export function listWorklist(
  db: Db,
  { now, today }: { now: Date; today: Day },
  filters: WorklistFilters,
  after: [string, string] | null,
  limit: number,
): Promise<WorklistRow[]> {
  const isDone = filters.tab === 'done' && !filters.only
  const from = !after
    ? Prisma.empty
    : isDone
      ? Prisma.sql`AND (f.closed_at, f.id) < (${after[0]}::timestamptz, ${after[1]}::uuid)`
      : Prisma.sql`AND (f.due_on, f.id) > (${after[0]}::date, ${after[1]}::uuid)`
  const order = isDone ? Prisma.sql`f.closed_at DESC, f.id DESC` : Prisma.sql`f.due_on, f.id`
  const outer = isDone ? Prisma.sql`r."closedAt" DESC, r.id DESC` : Prisma.sql`r."dueOn", r.id`
  return db.$queryRaw`${select(now, Prisma.sql`${conditions(filters, today)} ${from}`, order, limit)} ORDER BY ${outer}`
}

/** Rows by their ids, in no order. */
export function listWorklistRows(db: Db, now: Date, ids: readonly string[]): Promise<WorklistRow[]> {
  return db.$queryRaw(select(now, Prisma.sql`f.id = ANY(${[...ids]}::uuid[])`, Prisma.sql`f.id`, ids.length))
}

/** What is due, added up: the most pressing first, and of streets those with most homes. */
export function listGroups(
  db: Db,
  { now, today }: { now: Date; today: Day },
  { by, ...filters }: GroupsQuery,
): Promise<WorklistGroup[]> {
  const thisWeek = Prisma.sql`date_trunc('week', ${today}::date)`
  const key =
    by === 'street'
      ? Prisma.sql`min(${STREET})`
      : Prisma.sql`CASE WHEN min(f.due_on) < ${thisWeek} THEN 'earlier'
                        ELSE date_trunc('week', min(f.due_on))::date::text END`
  const group =
    by === 'street'
      ? Prisma.sql`fold(${STREET}), fold(p.city)`
      : Prisma.sql`CASE WHEN f.due_on >= ${thisWeek} THEN date_trunc('week', f.due_on) END`
  const order =
    by === 'street' ? Prisma.sql`(overdue > 0) DESC, homes DESC, earliest, key` : Prisma.sql`earliest, key`
  return db.$queryRaw`
    SELECT * FROM (
      SELECT ${key} AS key, ${by === 'street' ? Prisma.sql`min(p.city)` : Prisma.sql`NULL::text`} AS city,
             count(DISTINCT f.property_id)::int AS homes, count(*)::int AS "followUps",
             (count(*) FILTER (WHERE f.due_on < ${TODAY}))::int AS overdue, min(f.due_on)::text AS earliest
        ${FROM} LEFT JOIN equipment e ON e.id = f.equipment_id
        CROSS JOIN (SELECT ${now}::timestamptz AS now_at) t
       WHERE ${conditions(filters, today)}
       GROUP BY ${group}) g
     ORDER BY ${order} LIMIT 200`
}

export async function findWorklistRow(db: Db, now: Date, id: string): Promise<WorklistRow | null> {
  const rows = await db.$queryRaw<WorklistRow[]>`
    ${select(now, Prisma.sql`f.id = ${id}::uuid`, Prisma.sql`f.id`, 1)}`
  return rows[0] ?? null
}

/** Everything open at one home. */
export function listOpenAt(db: Db, now: Date, propertyId: string): Promise<WorklistRow[]> {
  const where = Prisma.sql`f.property_id = ${propertyId}::uuid AND f.closed_at IS NULL AND ${LISTED}`
  return db.$queryRaw`${select(now, where, Prisma.sql`f.due_on, f.id`, 200)} ORDER BY r."dueOn", r.id`
}

export interface Counts extends Record<Exclude<Tab, 'done'>, number> {
  dueThisMonth: number
  answered: number
  booked: number
  ignoredTwice: number
  bounced: number
}

/** The figures above the worklist. The month is the company's; only what is open, or ended this month, is looked at. */
export async function countWorklist(db: Db, now: Date, today: Day): Promise<Counts> {
  const [row] = await db.$queryRaw<Counts[]>`
    WITH open AS (
      SELECT f.id, f.state, f.due_on, ${TAB} AS tab, ${RECEIVER} AS receiver_id
        ${FROM} CROSS JOIN (SELECT ${now}::timestamptz AS now_at) t
       WHERE f.closed_at IS NULL),
    month AS (
      SELECT o.id, o.state FROM open o
       WHERE o.tab <> 'none' AND date_trunc('month', o.due_on) = date_trunc('month', ${today}::date)
      UNION ALL
      SELECT f.id, f.state FROM follow_up f
       WHERE f.closed_at >= date_trunc('month', ${today}::date) AND ${LISTED}
         AND date_trunc('month', f.due_on) = date_trunc('month', ${today}::date)),
    letters AS (
      SELECT l.follow_up_id AS id, count(*) FILTER (WHERE m.state = 'sent' AND ${isFirst(Prisma.sql`m`)}) AS sent,
             count(*) FILTER (WHERE m.acted_at IS NOT NULL) AS answers
        FROM message_follow_up l JOIN message m ON m.id = l.message_id
       WHERE l.follow_up_id IN (SELECT id FROM open UNION ALL SELECT id FROM month)
       GROUP BY 1)
    SELECT (SELECT count(*) FROM month)::int AS "dueThisMonth",
           (SELECT count(*) FROM month LEFT JOIN letters USING (id)
             WHERE month.state IN ('asked', 'booked', 'done') OR letters.answers > 0)::int AS answered,
           count(*) FILTER (WHERE o.state = 'booked')::int AS booked,
           count(*) FILTER (WHERE o.state = 'told' AND letters.sent >= 2 AND letters.answers = 0)::int AS "ignoredTwice",
           count(*) FILTER (WHERE s.email IS NOT NULL)::int AS bounced,
           count(*) FILTER (WHERE o.tab = 'due')::int AS due,
           count(*) FILTER (WHERE o.tab = 'coming')::int AS coming,
           count(*) FILTER (WHERE o.tab = 'waiting')::int AS waiting
      FROM open o LEFT JOIN letters ON letters.id = o.id LEFT JOIN customer c ON c.id = o.receiver_id
      LEFT JOIN suppressed_address s ON s.email = c.email AND s.reason = 'bounced'
     WHERE o.tab <> 'none'`
  return row!
}

export async function listCallsAndMessages(db: Db, followUpId: string) {
  const [messages, calls] = await Promise.all([
    db.messageFollowUp.findMany({
      where: { followUpId },
      include: { message: true },
      orderBy: { message: { createdAt: 'desc' } },
      take: 100,
    }),
    db.callNote.findMany({ where: { followUpId }, orderBy: { at: 'desc' }, take: 100 }),
  ])
  const people = await db.user.findMany({
    where: { id: { in: calls.map(({ byId }) => byId) } },
    select: { id: true, name: true },
  })
  return { messages, calls, nameOf: new Map(people.map(({ id, name }) => [id, name])) }
}
