import type { Day } from '../../trade/dates.ts'
import type { Db } from '../db.ts'

export interface DatedDevice {
  id: string
  version: number
  kind: string
  label: string
  details: Record<string, unknown>
  manufacturedOn: Day | null
  installedOn: Day | null
  lastCheckedOn: Day | null
  replaceBy: Day | null
  nextCheckOn: Day | null
  timeZone: string
  isUs: boolean | null
}
export interface NewDates {
  id: string
  version: number
  replaceBy: Day | null
  nextCheckOn: Day | null
}
type Intervals = Readonly<Record<string, number>>

export async function areDatedWith(db: Db, intervals: Intervals): Promise<boolean> {
  const [row] = await db.$queryRaw<{ same: boolean }[]>`
    SELECT coalesce(dated_with = ${JSON.stringify(intervals)}::jsonb, false) AS same FROM company`
  return row?.same ?? true
}

export async function setDatedWith(db: Db, intervals: Intervals): Promise<void> {
  await db.$executeRaw`UPDATE company SET dated_with = ${JSON.stringify(intervals)}::jsonb`
}

/** Devices in use whose dates rest on an interval, in the order of their ids. */
export function listDatedDevices(db: Db, after: string | null, limit: number): Promise<DatedDevice[]> {
  return db.$queryRaw`
    SELECT e.id, e.version, e.kind, e.label, e.details, e.manufactured_on::text AS "manufacturedOn",
           e.installed_on::text AS "installedOn", e.last_checked_on::text AS "lastCheckedOn",
           e.replace_by::text AS "replaceBy", e.next_check_on::text AS "nextCheckOn", p.time_zone AS "timeZone",
           j.is_us AS "isUs"
      FROM equipment e JOIN property p ON p.id = e.property_id LEFT JOIN jurisdiction j ON j.id = p.jurisdiction_id
     WHERE e.retired_on IS NULL AND e.kind IN ('alarm', 'surge-protector')
       AND (${after}::uuid IS NULL OR e.id > ${after}::uuid)
     ORDER BY e.id LIMIT ${limit}`
}

/** What somebody has changed meanwhile has its new dates already. The version stays: nothing that a person wrote has
 *  changed, and work without signal must not be refused for it. @returns how many were changed */
export async function saveDates(db: Db, rows: readonly NewDates[], now: Date): Promise<number> {
  if (rows.length === 0) return 0
  return db.$executeRaw`
    UPDATE equipment e SET replace_by = d."replaceBy", next_check_on = d."nextCheckOn", updated_at = ${now}::timestamptz
      FROM jsonb_to_recordset(${JSON.stringify(rows)}::jsonb)
        AS d(id uuid, version int, "replaceBy" date, "nextCheckOn" date)
     WHERE e.id = d.id AND e.version = d.version`
}
