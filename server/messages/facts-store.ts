import type { Severity } from '../../trade/verdict.ts'
import type { FollowUpKindId } from '../../trade/follow-ups/kind.ts'
import { TOPIC_IDS, TOPICS } from '../../trade/follow-ups/topics.ts'
import type { Db } from '../db.ts'

// Facts for many letters at once: one statement for each kind of fact, however many letters ask for it.

export async function listVisits(db: Db, ids: readonly string[]) {
  if (ids.length === 0) return []
  return db.visit.findMany({
    where: { id: { in: [...ids] } },
    select: {
      id: true,
      kind: true,
      state: true,
      sequence: true,
      windowStartsAt: true,
      windowEndsAt: true,
      lengthMinutes: true,
      closedReason: true,
      technician: { select: { name: true } },
      property: { select: { line1: true, line2: true, city: true, postcode: true, timeZone: true } },
    },
  })
}
export type VisitOfLetter = Awaited<ReturnType<typeof listVisits>>[number]

export interface TellableFollowUp {
  id: string
  kind: FollowUpKindId
  dueOn: string
  assumed: boolean
  severity: Severity | null
  /** Of the checklist, where it is about a finding. */
  itemId: string | null
  /** Equipment's label, finding's text; null where the kind needs none. */
  label: string | null
  estimateNumber: number | null
  makeSafe: string | null
  propertyId: string
  line1: string
  line2: string
  city: string
  timeZone: string
}

const TOPIC_BY_KIND = JSON.stringify(
  Object.fromEntries(TOPIC_IDS.flatMap((topic) => TOPICS[topic].map((kind) => [kind, topic]))),
)

/** What messages tell of, is still open, and may still be told of, earliest first. */
export async function listTold(
  db: Db,
  messageIds: readonly string[],
): Promise<(TellableFollowUp & { messageId: string })[]> {
  if (messageIds.length === 0) return []
  return db.$queryRaw`
    SELECT l.message_id AS "messageId", f.id, f.kind, f.due_on::text AS "dueOn", f.assumed, n.severity,
           n.item_id AS "itemId", coalesce(e.label, n.text) AS label, x.number AS "estimateNumber", n.make_safe AS "makeSafe",
           p.id AS "propertyId", p.line1, p.line2, p.city, p.time_zone AS "timeZone"
      FROM message_follow_up l JOIN follow_up f ON f.id = l.follow_up_id JOIN property p ON p.id = f.property_id
      LEFT JOIN equipment e ON e.id = f.equipment_id
      LEFT JOIN finding n ON n.id = f.finding_id
      LEFT JOIN estimate x ON x.id = f.estimate_id
     WHERE l.message_id = ANY(${[...messageIds]}::uuid[])
       AND (f.closed_at IS NULL OR f.kind = 'self-test-tips')
       -- Whoever has left a home since the letter was planned reads no more about it.
       AND NOT EXISTS (SELECT 1 FROM message m JOIN property_party gone ON gone.customer_id = m.customer_id
                        WHERE m.id = l.message_id AND gone.property_id = f.property_id AND gone.until IS NOT NULL
                          AND NOT EXISTS (SELECT 1 FROM property_party here WHERE here.property_id = f.property_id
                                           AND here.customer_id = m.customer_id AND here.until IS NULL))
       -- Nor about what they have switched off since; a hazard is nobody's choice.
       AND NOT EXISTS (SELECT 1 FROM message m JOIN message_preference w ON w.customer_id = m.customer_id
                        WHERE m.id = l.message_id AND m.category <> 'safety' AND NOT w.allowed
                          AND w.category = ${TOPIC_BY_KIND}::jsonb ->> f.kind)
     ORDER BY p.city, p.line1, f.due_on, f.id`
}

export async function listReports(db: Db, ids: readonly string[]) {
  if (ids.length === 0) return []
  const reports = await db.report.findMany({
    where: { id: { in: [...ids] } },
    select: {
      id: true,
      version: true,
      inspection: {
        select: {
          completedOn: true,
          property: { select: { line1: true, line2: true, city: true, postcode: true } },
          findings: { select: { severity: true } },
        },
      },
    },
  })
  return reports.map(({ inspection, ...report }) => ({ ...report, ...inspection }))
}
export type ReportOfLetter = Awaited<ReturnType<typeof listReports>>[number]

export async function listRequests(db: Db, ids: readonly string[]) {
  if (ids.length === 0) return []
  return db.visitRequest.findMany({
    where: { id: { in: [...ids] } },
    select: {
      id: true,
      reason: true,
      preferredDays: true,
      preferredTime: true,
      property: { select: { line1: true, line2: true, city: true, postcode: true, timeZone: true } },
    },
  })
}
export type RequestOfLetter = Awaited<ReturnType<typeof listRequests>>[number]

export async function listEstimates(db: Db, ids: readonly string[]) {
  if (ids.length === 0) return []
  return db.estimate.findMany({
    where: { id: { in: [...ids] } },
    select: {
      id: true,
      number: true,
      state: true,
      expiresOn: true,
      lines: { select: { option: true, quantityThousandths: true, priceCents: true, taxBasisPoints: true } },
      property: { select: { line1: true, line2: true, city: true } },
    },
  })
}
export type EstimateOfLetter = Awaited<ReturnType<typeof listEstimates>>[number]
