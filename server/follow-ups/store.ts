import type { Day } from '../../trade/dates.ts'
import type { Severity } from '../../trade/verdict.ts'
import type { FollowUpKindId } from '../../trade/follow-ups/kind.ts'
import type { Db } from '../db.ts'
import { Problem } from '../errors.ts'
import { newId } from '../ids.ts'
import { fromDay, toDay } from '../time.ts'
import type { FollowUpState } from './household.ts'
import type { CallOutcome } from './schema.ts'

export interface FollowUpRecord {
  id: string
  kind: FollowUpKindId
  subjectKind: string
  subjectId: string
  propertyId: string
  zone: string
  dueOn: Day
  severity: Severity | null
  state: FollowUpState
  lastStep: string | null
  closedAt: Date | null
  version: number
}

export async function findFollowUps(db: Db, ids: readonly string[]): Promise<FollowUpRecord[]> {
  const rows = await db.followUp.findMany({
    where: { id: { in: [...ids] } },
    include: { property: { select: { timeZone: true } }, finding: { select: { severity: true } } },
  })
  return rows.map((row) => ({
    id: row.id,
    kind: row.kind as FollowUpKindId,
    subjectKind: row.subjectKind,
    subjectId: row.subjectId,
    propertyId: row.propertyId,
    zone: row.property.timeZone,
    dueOn: toDay(row.dueOn),
    severity: (row.finding?.severity as Severity | undefined) ?? null,
    state: row.state as FollowUpState,
    lastStep: row.lastStep,
    closedAt: row.closedAt,
    version: row.version,
  }))
}

export async function getFollowUp(db: Db, id: string): Promise<FollowUpRecord> {
  const [found] = await findFollowUps(db, [id])
  if (!found) throw new Problem('not-found', 'There is no such follow-up.')
  return found
}

/** Ends those that are open. @returns the ids of those that it ended */
export async function closeFollowUps(
  db: Db,
  ids: readonly string[],
  how: { state: 'done' | 'dismissed'; reason: string; byId: string | null; now: Date },
): Promise<Set<string>> {
  const rows = await db.followUp.updateManyAndReturn({
    where: { id: { in: [...ids] }, closedAt: null },
    data: {
      state: how.state,
      closedAt: how.now,
      closedReason: how.reason,
      closedById: how.byId,
      nextNoticeOn: null,
      version: { increment: 1 },
      updatedAt: how.now,
    },
    select: { id: true },
  })
  return new Set(rows.map(({ id }) => id))
}

/** Silent until a day, on which its next notice is looked for. */
export async function restUntil(db: Db, id: string, until: Day, now: Date): Promise<boolean> {
  const { count } = await db.followUp.updateMany({
    where: { id, closedAt: null },
    data: {
      snoozedUntil: fromDay(until),
      nextNoticeOn: fromDay(until),
      version: { increment: 1 },
      updatedAt: now,
    },
  })
  return count === 1
}

/** Off the list and silent until a day; then its letters go on as planned. */
export async function hideUntil(db: Db, id: string, until: Day, now: Date): Promise<void> {
  await db.followUp.updateMany({
    where: { id, closedAt: null },
    data: { snoozedUntil: fromDay(until), version: { increment: 1 }, updatedAt: now },
  })
}

/** The customer asked for a visit: the office has the next word. A tip is nothing that a visit sees to. */
export async function setAsked(db: Db, ids: readonly string[], requestId: string, now: Date): Promise<void> {
  await db.followUp.updateMany({
    where: {
      id: { in: [...ids] },
      closedAt: null,
      state: { not: 'booked' },
      kind: { not: 'self-test-tips' },
    },
    data: { state: 'asked', requestId, version: { increment: 1 }, updatedAt: now },
  })
}

/** Undoes an ending, unless the same cause is open again. The planner gives it its next notice. */
export async function reopen(
  db: Db,
  record: FollowUpRecord,
  nextNoticeOn: Day | null,
  now: Date,
): Promise<boolean> {
  const { count } = await db.followUp.updateMany({
    where: { id: record.id, closedAt: { not: null } },
    data: {
      state: record.lastStep === null ? 'planned' : 'told',
      closedAt: null,
      closedReason: null,
      closedById: null,
      snoozedUntil: null,
      nextNoticeOn: fromDay(nextNoticeOn),
      version: { increment: 1 },
      updatedAt: now,
    },
  })
  return count === 1
}

export function insertCall(
  db: Db,
  call: { followUpId: string; outcome: CallOutcome; note: string; byId: string; at: Date },
) {
  return db.callNote.create({ data: { id: newId(), ...call } })
}
