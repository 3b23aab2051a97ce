import type { Day } from '../../trade/dates.ts'
import type { Db } from '../db.ts'
import { fromDay } from '../time.ts'

export interface LookedAt {
  id: string
  lastCheckedOn: Day
  replaceBy: Day | null
  replaceByAssumed: boolean
  nextCheckOn: Day | null
}

/** The dates of everything that was looked at, in one statement. */
export async function saveEquipmentDates(tx: Db, now: Date, rows: readonly LookedAt[]): Promise<void> {
  if (rows.length === 0) return
  await tx.$executeRaw`
    UPDATE equipment e SET last_checked_on = d."lastCheckedOn", replace_by = d."replaceBy",
        replace_by_assumed = d."replaceByAssumed", next_check_on = d."nextCheckOn",
        version = e.version + 1, updated_at = ${now}
      FROM jsonb_to_recordset(${JSON.stringify(rows)}::jsonb) AS d (id uuid, "lastCheckedOn" date,
        "replaceBy" date, "replaceByAssumed" boolean, "nextCheckOn" date)
     WHERE e.id = d.id`
}

/** The latest inspection counts, whichever is completed last. */
export async function markInspected(tx: Db, propertyId: string, on: Day, now: Date): Promise<void> {
  await tx.$executeRaw`
    UPDATE property SET last_inspected_on = greatest(last_inspected_on, ${fromDay(on)}::date), updated_at = ${now}
     WHERE id = ${propertyId}::uuid`
}

export async function finishVisit(tx: Db, visitId: string, at: Date, now: Date): Promise<boolean> {
  const { count } = await tx.visit.updateMany({
    where: { id: visitId, state: { in: ['booked', 'travelling', 'on-site'] } },
    data: { state: 'finished', finishedAt: at, version: { increment: 1 }, updatedAt: now },
  })
  return count === 1
}

export async function settleFinding(
  tx: Db,
  id: string,
  change: { state: string; closedOn: Day | null },
  now: Date,
): Promise<void> {
  await tx.finding.update({
    where: { id },
    data: {
      state: change.state,
      closedOn: fromDay(change.closedOn),
      version: { increment: 1 },
      updatedAt: now,
    },
  })
}
