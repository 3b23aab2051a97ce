import type { Language } from '../../trade/day-in-words.ts'
import type { Db } from '../db.ts'
import type { TellableFollowUp } from '../messages/facts-store.ts'
import type { FollowUpState } from '../follow-ups/household.ts'
import { fromDay } from '../time.ts'
import type { Day } from '../../trade/dates.ts'

export type LinkPurpose = 'report' | 'due' | 'visit' | 'preferences' | 'estimate'

export interface FoundLink {
  id: string
  purpose: LinkPurpose
  subjectId: string | null
  customerId: string
  customerName: string
  language: Language
  propertyId: string | null
  expiresAt: Date
  revokedAt: Date | null
}

export async function findLink(db: Db, tokenHash: Buffer): Promise<FoundLink | null> {
  const row = await db.privateLink.findUnique({
    where: { tokenHash: new Uint8Array(tokenHash) },
    include: { customer: { select: { name: true, language: true } } },
  })
  if (!row) return null
  const { customer, ...link } = row
  return {
    ...link,
    purpose: link.purpose as LinkPurpose,
    customerName: customer.name,
    language: customer.language as Language,
  }
}

/** Opened: the one thing that reading a page writes down. A mail program that looks ahead leaves the same trace. */
export async function markSeen(db: Db, linkId: string, now: Date): Promise<void> {
  await db.privateLink.updateMany({ where: { id: linkId }, data: { lastSeenAt: now } })
  await db.message.updateMany({ where: { id: linkId, openedPageAt: null }, data: { openedPageAt: now } })
}

export async function markActed(db: Db, linkId: string, now: Date): Promise<void> {
  await db.message.updateMany({
    where: { id: linkId, actedAt: null },
    data: { actedAt: now, updatedAt: now },
  })
}

export interface HomeOfHousehold {
  id: string
  line1: string
  line2: string
  city: string
  timeZone: string
}

/** The homes that a person is written to about, or the one that the link is for while they have to do with it. */
export function listHomes(db: Db, customerId: string, propertyId: string | null): Promise<HomeOfHousehold[]> {
  return db.property.findMany({
    where: {
      archivedAt: null,
      ...(propertyId && { id: propertyId }),
      parties: { some: { customerId, until: null, ...(!propertyId && { isContact: true }) } },
    },
    select: { id: true, line1: true, line2: true, city: true, timeZone: true },
    orderBy: [{ city: 'asc' }, { line1: 'asc' }],
    take: 200,
  })
}

export interface ShownFollowUp extends TellableFollowUp {
  state: FollowUpState
  snoozedUntil: string | null
  subjectId: string
  equipmentKind: string | null
  /** Who may answer it, of an estimate. */
  estimateCustomerId: string | null
}

/** What is open at homes, as the people there may see it. */
export function listOpen(db: Db, propertyIds: readonly string[]): Promise<ShownFollowUp[]> {
  return db.$queryRaw`
    SELECT f.id, f.kind, f.due_on::text AS "dueOn", f.assumed, n.severity, n.item_id AS "itemId",
           coalesce(e.label, n.text) AS label, x.number AS "estimateNumber", n.make_safe AS "makeSafe",
           p.id AS "propertyId", p.line1, p.line2, p.city, p.time_zone AS "timeZone", f.state,
           f.snoozed_until::text AS "snoozedUntil", f.subject_id AS "subjectId", e.kind AS "equipmentKind",
           x.customer_id AS "estimateCustomerId"
      FROM follow_up f JOIN property p ON p.id = f.property_id
      LEFT JOIN equipment e ON e.id = f.equipment_id
      LEFT JOIN finding n ON n.id = f.finding_id
      LEFT JOIN estimate x ON x.id = f.estimate_id
     WHERE f.closed_at IS NULL AND f.property_id = ANY(${[...propertyIds]}::uuid[])
       AND f.kind NOT IN ('visit-confirmation', 'visit-reminder', 'make-safe-check')
     ORDER BY f.property_id, (n.severity = 'unsafe') IS NOT TRUE, f.due_on, f.id
     LIMIT 500`
}

/** One follow-up of these homes, open or not. */
export async function findFollowUp(db: Db, id: string, propertyIds: readonly string[]) {
  return db.followUp.findFirst({
    where: { id, propertyId: { in: [...propertyIds] } },
    include: {
      property: { select: { timeZone: true } },
      finding: { select: { severity: true, state: true, text: true } },
    },
  })
}

export async function setFindingCorrected(
  db: Db,
  id: string,
  from: readonly string[],
  now: Date,
): Promise<boolean> {
  const { count } = await db.finding.updateMany({
    where: { id, state: { in: [...from] } },
    data: { state: 'corrected', version: { increment: 1 }, updatedAt: now },
  })
  return count === 1
}

/** The person has nothing to do with the home any more. The history stays. */
export async function endParties(db: Db, propertyId: string, customerId: string, on: Day): Promise<void> {
  await db.propertyParty.updateMany({
    where: { propertyId, customerId, until: null },
    data: { until: fromDay(on), isContact: false },
  })
}

/** As what somebody has to do with a home today. */
export function listRoles(db: Db, propertyId: string, customerId: string) {
  return db.propertyParty.findMany({
    where: { propertyId, customerId, until: null },
    select: { role: true, isContact: true },
    orderBy: { role: 'asc' },
  })
}

export async function restoreRole(
  db: Db,
  propertyId: string,
  customerId: string,
  { role, isContact }: { role: string; isContact: boolean },
): Promise<void> {
  await db.propertyParty.updateMany({
    where: { propertyId, customerId, role },
    data: { until: null, isContact },
  })
}

export async function hasContact(db: Db, propertyId: string): Promise<boolean> {
  return (await db.propertyParty.count({ where: { propertyId, isContact: true, until: null } })) > 0
}

export async function hasVisitAhead(db: Db, propertyId: string, customerId: string): Promise<boolean> {
  return (await db.visit.count({ where: { propertyId, customerId, state: 'booked' } })) > 0
}

/** Undoes a rest, unless it was changed since. */
export async function restoreRest(
  db: Db,
  id: string,
  until: Day,
  before: { snoozedUntil: Day | null; nextNoticeOn: Day | null },
  now: Date,
): Promise<boolean> {
  const { count } = await db.followUp.updateMany({
    where: { id, closedAt: null, snoozedUntil: fromDay(until) },
    data: {
      snoozedUntil: fromDay(before.snoozedUntil),
      nextNoticeOn: fromDay(before.nextNoticeOn),
      version: { increment: 1 },
      updatedAt: now,
    },
  })
  return count === 1
}

/** When this person last asked for a visit to the home that nobody has answered yet. */
export async function askedAt(db: Db, propertyId: string, customerId: string): Promise<Date | null> {
  const request = await db.visitRequest.findFirst({
    where: { propertyId, customerId, state: 'waiting', source: 'private-link' },
    orderBy: { createdAt: 'desc' },
    select: { createdAt: true },
  })
  return request?.createdAt ?? null
}

export async function isRequestKnown(db: Db, id: string, customerId: string): Promise<boolean> {
  return (await db.visitRequest.count({ where: { id, customerId } })) > 0
}

export async function cancelOffers(db: Db, propertyId: string, customerId: string, now: Date): Promise<void> {
  await db.message.updateMany({
    where: { propertyId, customerId, state: 'planned', category: { in: ['reminder', 'tips'] } },
    data: { state: 'cancelled', lastError: 'No longer has to do with this home.', updatedAt: now },
  })
}

export function findVisitOfLink(db: Db, id: string, customerId: string) {
  return db.visit.findFirst({
    where: { id, customerId },
    select: {
      id: true,
      kind: true,
      state: true,
      confirmedAt: true,
      propertyId: true,
      windowStartsAt: true,
      windowEndsAt: true,
      lengthMinutes: true,
      technician: { select: { name: true } },
      property: { select: { line1: true, line2: true, city: true, timeZone: true } },
    },
  })
}

/** Neither the version nor the time of the last change: the appointment stays what the office made it. */
export async function setConfirmed(db: Db, visitId: string, now: Date): Promise<void> {
  await db.visit.updateMany({
    where: { id: visitId, state: 'booked', confirmedAt: null },
    data: { confirmedAt: now },
  })
}

/** @returns whether it is another one than before */
export async function setLanguage(
  db: Db,
  customerId: string,
  language: Language,
  now: Date,
): Promise<boolean> {
  const { count } = await db.customer.updateMany({
    where: { id: customerId, language: { not: language } },
    data: { language, version: { increment: 1 }, updatedAt: now },
  })
  return count === 1
}

export function findCustomer(db: Db, id: string) {
  return db.customer.findUnique({ where: { id }, select: { id: true, language: true } })
}

/** A later version of the same report, the latest where there are several. */
export function findNewerReport(db: Db, report: { inspectionId: string; version: number }) {
  return db.report.findFirst({
    where: { inspectionId: report.inspectionId, version: { gt: report.version } },
    orderBy: { version: 'desc' },
    select: { version: true, issuedAt: true },
  })
}
