import type { Prisma } from '../../prisma/generated/client.ts'
import type { TwiceChoice, TwiceKind } from '../../trade/inspection/recorded-twice.ts'
import type { Db } from '../db.ts'
import { iso } from '../sql-shapes.ts'
import type { AlternativeView } from './record-schema.ts'

export interface NewAlternative {
  id: string
  inspectionId: string
  subject: string
  kind: TwiceKind
  record: Readonly<Record<string, unknown>>
  recordedById: string | null
  recordedAt: Date
  replacedById: string
  replacedAt: Date
}

export async function insertAlternative(tx: Db, row: NewAlternative): Promise<void> {
  await tx.alternative.createMany({
    data: { ...row, record: row.record as Prisma.InputJsonObject },
    skipDuplicates: true,
  })
}

export interface Alternative {
  id: string
  subject: string
  kind: TwiceKind
  record: Record<string, unknown>
  choice: TwiceChoice | null
}

export async function findAlternative(tx: Db, inspectionId: string, id: string): Promise<Alternative | null> {
  return (await tx.alternative.findFirst({
    where: { id, inspectionId },
    select: { id: true, subject: true, kind: true, record: true, choice: true },
  })) as Alternative | null
}

export async function markChosen(
  tx: Db,
  id: string,
  chosen: { choice: TwiceChoice; chosenById: string; chosenAt: Date },
): Promise<void> {
  await tx.alternative.update({ where: { id }, data: chosen })
}

/** What nobody has chosen about yet, in the order in which it came up. */
export async function listOffered(
  db: Db,
  inspectionIds: readonly string[],
): Promise<(AlternativeView & { inspectionId: string })[]> {
  if (inspectionIds.length === 0) return []
  return db.$queryRaw`
    SELECT a.id::text, a.inspection_id::text AS "inspectionId", a.kind, a.subject, a.record,
           coalesce(by.name, '') AS "recordedByName", ${iso('a.recorded_at')} AS "recordedAt",
           coalesce(later.name, '') AS "replacedByName", ${iso('a.replaced_at')} AS "replacedAt"
      FROM alternative a
      LEFT JOIN staff by ON by.id = a.recorded_by_id
      LEFT JOIN staff later ON later.id = a.replaced_by_id
     WHERE a.inspection_id = ANY(${[...inspectionIds]}::uuid[]) AND a.choice IS NULL
     ORDER BY a.replaced_at, a.id`
}
