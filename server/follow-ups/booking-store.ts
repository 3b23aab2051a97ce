import type { Db } from '../db.ts'
import { STREET } from './worklist-conditions.ts'
import { LIVE_STATES } from '../../trade/visits.ts'

/** What the plan of a day needs to know of homes, in the order of a walk: town, street, number. */
export async function listStops(db: Db, propertyIds: readonly string[]) {
  return db.$queryRaw<
    {
      id: string
      line1: string
      city: string
      timeZone: string
      latitude: number | null
      longitude: number | null
      archived: boolean
    }[]
  >`
    SELECT p.id, p.line1, p.city, p.time_zone AS "timeZone", p.latitude, p.longitude, p.archived_at IS NOT NULL AS archived
      FROM property p WHERE p.id = ANY(${[...propertyIds]}::uuid[])
     ORDER BY fold(p.city), fold(${STREET}), nullif(substring(p.line1 from '^\\s*(\\d{1,9})'), '')::int NULLS FIRST, p.id`
}
export type Stop = Awaited<ReturnType<typeof listStops>>[number]

/** Visits that are still to come at homes: a second one would send somebody twice. */
export async function listVisitsAhead(
  db: Db,
  propertyIds: readonly string[],
): Promise<{ propertyId: string; startsAt: Date; technician: string }[]> {
  const rows = await db.visit.findMany({
    where: {
      propertyId: { in: [...propertyIds] },
      state: { in: LIVE_STATES.filter((state) => state !== 'finished') },
    },
    orderBy: { startsAt: 'asc' },
    select: { propertyId: true, startsAt: true, technician: { select: { name: true } } },
  })
  return rows.map(({ technician, ...row }) => ({ ...row, technician: technician.name }))
}

export function findTechnician(db: Db, id: string): Promise<{ id: string; name: string } | null> {
  return db.user.findFirst({
    where: { id, role: 'technician', disabledAt: null },
    select: { id: true, name: true },
  })
}
