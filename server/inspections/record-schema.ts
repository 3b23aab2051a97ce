import { z } from 'zod'
import { REVIEW_OUTCOMES } from '../../trade/inspection/finding-states.ts'
import { SEVERITIES } from '../../trade/verdict.ts'
import { keysOf, openJson, textSchema } from '../fields.ts'
import { idSchema } from '../ids.ts'

// What was written at an inspection, as it is stored and shown.

export const itemIdSchema = z.string().min(3).max(80)
export const severitySchema = z.enum(SEVERITIES)

/** One line of the field sheet: an item at the home, a space or a piece of equipment. */
export const lineRef = {
  itemId: itemIdSchema,
  subjectKind: z.enum(['home', 'space', 'equipment']),
  subjectId: idSchema.nullable().default(null),
}

export const disagreement = z.strictObject({
  rule: z.string().min(1).max(120),
  reason: textSchema(1000, 1),
})

export const answerView = z.object({
  id: idSchema,
  itemId: z.string(),
  subjectKind: z.string(),
  subjectId: idSchema.nullable(),
  result: z.string(),
  notReachedReason: z.string().nullable(),
  note: z.string(),
  readings: openJson,
  /** trade/verdict.ts Verdict, as they stood when answered. */
  verdicts: z.array(openJson),
  /** { rule, reason, by, at } */
  disagreements: z.array(openJson),
  answeredById: idSchema,
  answeredAt: z.string(),
  version: z.number(),
})
export type AnswerView = z.output<typeof answerView>

/** The answer as it stands; `superseded` is the one that it replaced unseen, for the person to choose. */
export const answerResult = answerView.extend({ superseded: openJson.nullable() })
export type AnswerResult = z.output<typeof answerResult>

export const findingView = z.object({
  id: idSchema,
  version: z.number(),
  propertyId: idSchema,
  inspectionId: idSchema,
  itemId: z.string(),
  spaceId: idSchema.nullable(),
  equipmentId: idSchema.nullable(),
  severity: z.string(),
  proposedSeverity: z.string().nullable(),
  loweredReason: z.string().nullable(),
  rule: z.string().nullable(),
  text: z.string(),
  correction: z.string(),
  state: z.string(),
  makeSafe: z.string().nullable(),
  /** { name, at, statement, statementHash, drawing? } */
  refusal: openJson.nullable(),
  watchUntil: z.string().nullable(),
  foundOn: z.string(),
  closedOn: z.string().nullable(),
})
export type FindingView = z.output<typeof findingView>

export const reviewView = z.object({
  findingId: idSchema,
  outcome: z.enum(keysOf(REVIEW_OUTCOMES)),
  note: z.string(),
  reviewedById: idSchema,
  reviewedAt: z.string(),
})
export type ReviewView = z.output<typeof reviewView>

export const photoView = z.object({
  id: idSchema,
  inspectionId: idSchema,
  findingId: idSchema.nullable(),
  itemId: z.string().nullable(),
  subjectId: idSchema.nullable(),
  /** SHA-256, hexadecimal: of the stored picture, and of the bytes that were sent. */
  sha256: z.string(),
  originalSha256: z.string(),
  width: z.number(),
  height: z.number(),
  bytes: z.number(),
  caption: z.string(),
  annotations: z.array(openJson),
  takenAt: z.string().nullable(),
  createdById: idSchema,
  createdAt: z.string(),
})
export type PhotoView = z.output<typeof photoView>

/** Recorded for the same thing by somebody else and replaced unseen: offered until somebody chooses. */
export const alternativeView = z.object({
  id: idSchema,
  kind: z.enum(['answer', 'finding', 'review', 'note', 'space', 'equipment', 'photo', 'work-declined']),
  /** answer:<item>@<subject>, finding:<id>, review:<finding>, note, space:<id>, equipment:<id> */
  subject: z.string(),
  /** trade/inspection/recorded-twice.ts says how it is recorded once more. */
  record: openJson,
  recordedByName: z.string(),
  recordedAt: z.string(),
  /** Who recorded what is shown now. */
  replacedByName: z.string(),
  replacedAt: z.string(),
})
export type AlternativeView = z.output<typeof alternativeView>

/** What was written at one inspection, as a device keeps it. */
export const inspectionRecordView = z.object({
  id: idSchema,
  version: z.number(),
  state: z.string(),
  checklistVersion: z.number(),
  technicianId: idSchema,
  startedAt: z.string(),
  completedAt: z.string().nullable(),
  completedOn: z.string().nullable(),
  note: z.string(),
  /** { findingIds, name, at, statement, statementHash, drawing? } */
  workDeclined: openJson.nullable(),
  answers: z.array(answerView),
  findings: z.array(findingView),
  reviews: z.array(reviewView),
  photos: z.array(photoView),
  alternatives: z.array(alternativeView),
})
export type InspectionRecordView = z.output<typeof inspectionRecordView>
