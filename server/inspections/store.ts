import { Prisma } from '../../prisma/generated/client.ts'
import { type Day, day } from '../../trade/dates.ts'
import { type Db, query } from '../db.ts'
import { Problem } from '../errors.ts'
import { HOME_COLUMNS, HOME_STAMP, type HomeRecord, homeOf, type HomeRow } from './home-store.ts'

export type InspectionState = 'open' | 'completed' | 'issued'

/** An inspection without what was written at it. */
export interface Inspection {
  id: string
  propertyId: string
  visitId: string
  technicianId: string
  technicianName: string
  state: InspectionState
  version: number
  checklistVersion: number
  startedAt: Date
  completedAt: Date | null
  completedOn: Day | null
  note: string
  /** { findingIds, name, at, statement, statementHash, drawing? } */
  workDeclined: Record<string, unknown> | null
  /** Of the property: what day it is there. */
  timeZone: string
}

type Row = Omit<Inspection, 'completedOn'> & { completedOn: string | null }

const COLUMNS = Prisma.sql`
  i.id::text, i.property_id::text AS "propertyId", i.visit_id::text AS "visitId",
  i.technician_id::text AS "technicianId", t.name AS "technicianName", i.state, i.version,
  i.checklist_version AS "checklistVersion", i.started_at AS "startedAt", i.completed_at AS "completedAt",
  i.completed_on::text AS "completedOn", i.note, i.work_declined AS "workDeclined",
  p.time_zone AS "timeZone"`
const FROM = Prisma.sql`
  FROM inspection i JOIN property p ON p.id = i.property_id JOIN staff t ON t.id = i.technician_id`

const inspectionOf = ({ completedOn, ...row }: Row): Inspection => ({
  ...row,
  completedOn: completedOn === null ? null : day(completedOn),
})

export async function findInspection(db: Db, id: string): Promise<Inspection | null> {
  const [row] = await db.$queryRaw<Row[]>`SELECT ${COLUMNS} ${FROM} WHERE i.id = ${id}::uuid`
  return row ? inspectionOf(row) : null
}

export async function findInspectionOfVisit(db: Db, visitId: string): Promise<Inspection | null> {
  const [row] = await db.$queryRaw<Row[]>`SELECT ${COLUMNS} ${FROM} WHERE i.visit_id = ${visitId}::uuid`
  return row ? inspectionOf(row) : null
}

export async function listInspectionsById(db: Db, ids: readonly string[]): Promise<Inspection[]> {
  const rows = await db.$queryRaw<Row[]>`SELECT ${COLUMNS} ${FROM} WHERE i.id = ANY(${[...ids]}::uuid[])`
  return rows.map(inspectionOf)
}

export async function getInspection(db: Db, id: string): Promise<Inspection> {
  return (await findInspection(db, id)) ?? notFound()
}

/** Holds the inspection until the transaction ends: whoever else writes to it waits. */
export async function lockInspection(tx: Db, id: string): Promise<Inspection> {
  return (await findAndLock(tx, id)) ?? notFound()
}

export async function findAndLock(tx: Db, id: string): Promise<Inspection | null> {
  const [row] = await tx.$queryRaw<Row[]>`
    SELECT ${COLUMNS} ${FROM} WHERE i.id = ${id}::uuid FOR UPDATE OF i`
  return row ? inspectionOf(row) : null
}

function notFound(): never {
  throw new Problem('not-found', 'There is no such inspection.')
}

/** What an answer is held against. */
export interface InspectionAtHome {
  inspection: Inspection
  home: HomeRecord
  /** STAMP as it was read. */
  stamp: string
}

/** Beside `inspection i` and `property p`: another one as soon as the inspection or its home is written to. */
export const STAMP = Prisma.sql`concat_ws(' ', i.xmin, ${HOME_STAMP})`

/** Put together once: the text of a long statement costs as much as a short statement. */
const AT_HOME = Prisma.sql`SELECT ${COLUMNS}, ${HOME_COLUMNS}, ${STAMP} AS stamp ${FROM} WHERE i.id = `.text

/** The inspection and the home it is made at, in one statement. */
export async function getInspectionAtHome(db: Db, id: string): Promise<InspectionAtHome> {
  const [row] = await query<Row & HomeRow & { stamp: string }>(db, {
    text: `${AT_HOME}$1::uuid`,
    values: [id],
  })
  if (!row) return notFound()
  const { property, jurisdiction, spaces, equipment, stamp, ...inspection } = row
  const home = homeOf({ property, jurisdiction, spaces, equipment })
  return { inspection: inspectionOf(inspection), home, stamp }
}

/** Begins one; false when the id or the visit has one already. */
export async function insertInspection(
  tx: Db,
  row: {
    id: string
    propertyId: string
    visitId: string
    technicianId: string
    checklistVersion: number
    startedAt: Date
  },
): Promise<boolean> {
  const { count } = await tx.inspection.createMany({
    data: { ...row, updatedAt: row.startedAt },
    skipDuplicates: true,
  })
  return count === 1
}

export async function updateInspection(
  tx: Db,
  id: string,
  now: Date,
  change:
    | { note?: string }
    | { workDeclined: Prisma.InputJsonObject }
    | { state: 'completed'; completedAt: Date; completedOn: Date }
    | ReopenChange
    | { state: 'issued' },
): Promise<void> {
  await tx.inspection.update({
    where: { id },
    data: { ...change, version: { increment: 1 }, updatedAt: now },
  })
}
type ReopenChange = { state: 'open'; completedAt: null; completedOn: null }

/** Tells open screens that something was written to it. */
export async function touchInspections(db: Db, ids: readonly string[], now: Date): Promise<void> {
  await db.inspection.updateMany({
    where: { id: { in: [...ids] } },
    data: { version: { increment: 1 }, updatedAt: now },
  })
}

export interface VisitToInspect {
  id: string
  propertyId: string
  customerId: string
  technicianId: string
  kind: string
  state: string
  startsAt: Date
}

export async function getVisitToInspect(db: Db, id: string): Promise<VisitToInspect> {
  const visit = await db.visit.findUnique({
    where: { id },
    select: {
      id: true,
      propertyId: true,
      customerId: true,
      technicianId: true,
      kind: true,
      state: true,
      startsAt: true,
    },
  })
  if (!visit) throw new Problem('not-found', 'There is no such visit.')
  return visit
}
