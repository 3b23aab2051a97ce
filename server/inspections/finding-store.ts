import type { Prisma } from '../../prisma/generated/client.ts'
import type { Db } from '../db.ts'
import { Problem } from '../errors.ts'
import { findingView } from './record-store.ts'
import type { FindingView, ReviewView } from './record-schema.ts'

export async function findFinding(db: Db, id: string): Promise<FindingView | null> {
  const row = await db.finding.findUnique({ where: { id } })
  return row && findingView(row)
}

export async function getFinding(db: Db, id: string): Promise<FindingView> {
  const finding = await findFinding(db, id)
  if (!finding) throw new Problem('not-found', 'There is no such finding.')
  return finding
}

export async function insertFinding(tx: Db, data: Prisma.FindingUncheckedCreateInput): Promise<FindingView> {
  return findingView(await tx.finding.create({ data }))
}

export async function updateFinding(
  tx: Db,
  id: string,
  now: Date,
  change: Prisma.FindingUncheckedUpdateManyInput,
  seen?: number,
): Promise<FindingView | null> {
  const { count } = await tx.finding.updateMany({
    where: { id, ...(seen !== undefined && { version: seen }) },
    data: { ...change, version: { increment: 1 }, updatedAt: now },
  })
  return count === 1 ? getFinding(tx, id) : null
}

/** Something was already made of it: a follow-up or a line of an estimate. */
export async function isReferredTo(tx: Db, id: string): Promise<boolean> {
  const followUps = await tx.followUp.count({ where: { findingId: id } })
  return followUps > 0 || (await tx.estimateLine.count({ where: { findingId: id } })) > 0
}

/** Takes a finding away; its photos stay with the inspection. */
export async function deleteFinding(tx: Db, id: string): Promise<void> {
  await tx.photo.updateMany({ where: { findingId: id }, data: { findingId: null } })
  await tx.finding.delete({ where: { id } })
}

export async function findReview(
  tx: Db,
  inspectionId: string,
  findingId: string,
): Promise<Pick<ReviewView, 'findingId' | 'outcome' | 'note'> | null> {
  const row = await tx.findingReview.findUnique({
    where: { inspectionId_findingId: { inspectionId, findingId } },
    select: { findingId: true, outcome: true, note: true },
  })
  return row as Pick<ReviewView, 'findingId' | 'outcome' | 'note'> | null
}

export async function saveReview(
  tx: Db,
  review: {
    inspectionId: string
    findingId: string
    outcome: string
    note: string
    reviewedById: string
    reviewedAt: Date
  },
): Promise<void> {
  const { inspectionId, findingId, ...said } = review
  await tx.findingReview.upsert({
    where: { inspectionId_findingId: { inspectionId, findingId } },
    create: review,
    update: said,
  })
}
