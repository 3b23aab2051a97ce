import type { Severity } from '../../trade/verdict.ts'
import type { FollowUpKindId } from '../../trade/follow-ups/kind.ts'
import type { Db } from '../db.ts'

export function findVisit(db: Db, id: string) {
  return db.visit.findUnique({
    where: { id },
    select: {
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

export interface TellableFollowUp {
  id: string
  kind: FollowUpKindId
  dueOn: string
  assumed: boolean
  severity: Severity | null
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

/** What a message tells of and is still open, earliest first. */
export function listTold(db: Db, messageId: string): Promise<TellableFollowUp[]> {
  return db.$queryRaw`
    SELECT f.id, f.kind, f.due_on::text AS "dueOn", f.assumed, n.severity, coalesce(e.label, n.text) AS label,
           x.number AS "estimateNumber", n.make_safe AS "makeSafe", p.id AS "propertyId", p.line1, p.line2, p.city,
           p.time_zone AS "timeZone"
      FROM message_follow_up l JOIN follow_up f ON f.id = l.follow_up_id JOIN property p ON p.id = f.property_id
      LEFT JOIN equipment e ON e.id = f.equipment_id
      LEFT JOIN finding n ON n.id = f.finding_id
      LEFT JOIN estimate x ON x.id = f.estimate_id
     WHERE l.message_id = ${messageId}::uuid
       AND (f.closed_at IS NULL OR f.kind = 'self-test-tips')
     ORDER BY p.city, p.line1, f.due_on, f.id`
}

export function countTold(db: Db, messageId: string): Promise<number> {
  return db.messageFollowUp.count({ where: { messageId } })
}

export async function findReport(db: Db, id: string) {
  const report = await db.report.findUnique({
    where: { id },
    select: {
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
  return report && { version: report.version, ...report.inspection }
}

export function findRequest(db: Db, id: string) {
  return db.visitRequest.findUnique({
    where: { id },
    select: {
      reason: true,
      preferredDays: true,
      preferredTime: true,
      property: { select: { line1: true, line2: true, city: true, postcode: true } },
    },
  })
}
