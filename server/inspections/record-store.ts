import type {
  Answer as AnswerRow,
  Finding as FindingRow,
  FindingReview,
  Photo,
} from '../../prisma/generated/client.ts'
import type { Day } from '../../trade/dates.ts'
import type { FindingState, ReviewOutcome } from '../../trade/inspection/finding-states.ts'
import type { Answer, Finding, Refusal, Review } from '../../trade/inspection/records.ts'
import type { Severity } from '../../trade/verdict.ts'
import type { Db } from '../db.ts'
import { toDay } from '../time.ts'
import { listOffered } from './alternative-store.ts'
import type { AlternativeView, AnswerView, FindingView, PhotoView, ReviewView } from './record-schema.ts'
import type { Inspection } from './store.ts'

/** All that was written at an inspection, as it is stored and shown. */
export interface Written {
  answers: AnswerView[]
  findings: FindingView[]
  reviews: ReviewView[]
  photos: PhotoView[]
  alternatives: AlternativeView[]
}

export async function listWritten(db: Db, inspectionIds: readonly string[]): Promise<Map<string, Written>> {
  if (inspectionIds.length === 0) return new Map()
  const where = { inspectionId: { in: [...inspectionIds] } }
  const [answers, findings, reviews, photos, alternatives] = [
    await db.answer.findMany({ where, orderBy: { id: 'asc' } }),
    await db.finding.findMany({ where, orderBy: { id: 'asc' } }),
    await db.findingReview.findMany({ where, orderBy: { findingId: 'asc' } }),
    await db.photo.findMany({ where, orderBy: { id: 'asc' } }),
    await listOffered(db, inspectionIds),
  ]
  const of = <Row extends { inspectionId: string }>(rows: readonly Row[], id: string) =>
    rows.filter((row) => row.inspectionId === id)
  return new Map(
    inspectionIds.map((id) => [
      id,
      {
        answers: of(answers, id).map(answerView),
        findings: of(findings, id).map(findingView),
        reviews: of(reviews, id).map(reviewView),
        photos: of(photos, id).map(photoView),
        alternatives: of(alternatives, id).map(({ inspectionId: _, ...each }) => each),
      },
    ]),
  )
}

/**
 * Findings of other inspections that have to be answered at this one: while it is open, whatever is not closed;
 * afterwards, what was answered.
 */
export async function listCarried(db: Db, inspection: Inspection): Promise<FindingView[]> {
  const { id, propertyId, state } = inspection
  const reviewed = { reviews: { some: { inspectionId: id } } }
  const rows = await db.finding.findMany({
    where: {
      propertyId,
      inspectionId: { not: id },
      OR: state === 'open' ? [{ closedOn: null }, reviewed] : [reviewed],
    },
    orderBy: { id: 'asc' },
  })
  return rows.map(findingView)
}

/** What a first visit would have to answer at each home: everything not closed. */
export async function listUnclosed(db: Db, propertyIds: readonly string[]): Promise<FindingView[]> {
  const rows = await db.finding.findMany({
    where: { propertyId: { in: [...propertyIds] }, closedOn: null },
    orderBy: { id: 'asc' },
  })
  return rows.map(findingView)
}

export function answerView(row: AnswerRow): AnswerView {
  const { inspectionId: _, answeredAt, readings, verdicts, disagreements, ...rest } = row
  return {
    ...rest,
    readings: readings as AnswerView['readings'],
    verdicts: verdicts as AnswerView['verdicts'],
    disagreements: disagreements as AnswerView['disagreements'],
    answeredAt: answeredAt.toISOString(),
  }
}

export function findingView(row: FindingRow): FindingView {
  const { createdAt: _, updatedAt: __, refusal, watchUntil, foundOn, closedOn, ...rest } = row
  return {
    ...rest,
    refusal: refusal as FindingView['refusal'],
    watchUntil: toDay(watchUntil),
    foundOn: toDay(foundOn),
    closedOn: toDay(closedOn),
  }
}

function reviewView({ inspectionId: _, reviewedAt, outcome, ...rest }: FindingReview): ReviewView {
  return { ...rest, outcome: outcome as ReviewOutcome, reviewedAt: reviewedAt.toISOString() }
}

export function photoView(row: Photo): PhotoView {
  const { sha256, originalSha256, annotations, takenAt, createdAt, ...rest } = row
  return {
    ...rest,
    sha256: Buffer.from(sha256).toString('hex'),
    originalSha256: Buffer.from(originalSha256).toString('hex'),
    annotations: annotations as PhotoView['annotations'],
    takenAt: takenAt?.toISOString() ?? null,
    createdAt: createdAt.toISOString(),
  }
}

export const asAnswer = (view: AnswerView): Answer => view as unknown as Answer
export const asReview = ({ findingId, outcome, note }: ReviewView): Review => ({ findingId, outcome, note })

export function asFinding(view: FindingView): Finding {
  return {
    ...view,
    severity: view.severity as Severity,
    proposedSeverity: view.proposedSeverity as Severity | null,
    refusal: view.refusal as unknown as Refusal | null,
    state: view.state as FindingState,
    watchUntil: view.watchUntil as Day | null,
  }
}
