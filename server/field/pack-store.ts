import type { Db } from '../db.ts'

/** A technician's visits that begin in the span, called-off ones left out, in order. */
export function listVisits(db: Db, technicianId: string, from: Date, to: Date) {
  return db.visit.findMany({
    where: {
      technicianId,
      startsAt: { gte: from, lt: to },
      state: { in: ['booked', 'travelling', 'on-site', 'finished'] },
    },
    include: {
      customer: {
        select: { id: true, name: true, phone: true, secondPhone: true, email: true, language: true },
      },
      inspections: { select: { id: true } },
    },
    orderBy: [{ startsAt: 'asc' }, { id: 'asc' }],
  })
}
export type PackedVisit = Awaited<ReturnType<typeof listVisits>>[number]

interface History {
  propertyId: string
  inspectionId: string
  completedOn: string
  technicianName: string
  findings: number
  unsafe: number
  note: string
}

/** The last inspections of each home, newest first. */
export function listHistory(db: Db, propertyIds: readonly string[], each: number): Promise<History[]> {
  return db.$queryRaw<History[]>`
    SELECT h.* FROM unnest(${[...propertyIds]}::uuid[]) AS home (id)
     CROSS JOIN LATERAL (
       SELECT i.property_id::text AS "propertyId", i.id::text AS "inspectionId", i.completed_on::text AS "completedOn",
              t.name AS "technicianName", i.note,
              (SELECT count(*)::int FROM finding f WHERE f.inspection_id = i.id) AS findings,
              (SELECT count(*)::int FROM finding f WHERE f.inspection_id = i.id AND f.severity = 'unsafe') AS unsafe
         FROM inspection i JOIN staff t ON t.id = i.technician_id
        WHERE i.property_id = home.id AND i.completed_on IS NOT NULL
        ORDER BY i.completed_on DESC, i.id DESC LIMIT ${each}) h`
}

export async function findTechnician(db: Db, id: string): Promise<{ id: string; name: string } | null> {
  return db.user.findUnique({ where: { id }, select: { id: true, name: true } })
}
