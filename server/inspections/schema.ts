import { z } from 'zod'
import { NOT_REACHED_REASONS, RESULTS } from '../../trade/checklist/item.ts'
import { FINDING_STATES } from '../../trade/inspection/finding-states.ts'
import { daySchema, keysOf, openJson, textSchema } from '../fields.ts'
import { idSchema } from '../ids.ts'
import { pageOf, pageQuery } from '../paging.ts'
import { propertyView, spaceView, equipmentView, jurisdictionView } from './home-schema.ts'
import { severitySchema, lineRef, disagreement, findingView, inspectionRecordView } from './record-schema.ts'

// Routes (a technician reaches the inspections of their own visits only; the office all of them):
//   GET   /inspections                 list: state, technician, home, days, search; newest visit first
//   GET   /inspections/export.csv      the same list as a file
//   POST  /inspections                 begin one on a visit; the same id or visit again gives the one there is
//   GET   /inspections/:id             whole: home, lines, answers, findings, carried, photos, open list, progress
//   GET   /inspections/:id/verdicts    every rule about this home, judged now
//   POST  /inspections/:id/answers     answer one line
//   POST  /inspections/:id/complete    409 inspection-incomplete with `open` while something is open
//   POST  /inspections/:id/reopen      completed, not yet issued: open again
//   GET   /findings/:id                one finding, with its ETag
//   PATCH /findings/:id                If-Match; severity, words, make-safe, state
// The field pack and the operations of devices: server/field/.

/** What is answered at one line. Readings are checked against the fields of the item. */
export const answerBody = z.strictObject({
  ...lineRef,
  result: z.enum(keysOf(RESULTS)),
  notReachedReason: z.enum(keysOf(NOT_REACHED_REASONS)).nullable().default(null),
  note: textSchema(4000).default(''),
  readings: openJson.default({}),
  disagreements: z.array(disagreement).max(20).default([]),
})
export type AnswerBody = z.output<typeof answerBody>
/** `base`: version of the answer that the person saw; left out: there was none. */
export const submitAnswerBody = answerBody.extend({ base: z.number().int().min(0).nullish() })
export type SubmitAnswerBody = z.output<typeof submitAnswerBody>

export const startBody = z.strictObject({ id: idSchema.optional(), visitId: idSchema })

export const findingChanges = {
  severity: severitySchema,
  loweredReason: textSchema(1000).nullable(),
  text: textSchema(4000),
  correction: textSchema(4000),
  makeSafe: textSchema(2000).nullable(),
  watchUntil: daySchema.nullable(),
}
export const changeFindingBody = z
  .strictObject({ ...findingChanges, state: z.enum(keysOf(FINDING_STATES)) })
  .partial()
  .refine((changes) => Object.keys(changes).length > 0, { error: 'name at least one field to change' })
export type ChangeFindingBody = z.output<typeof changeFindingBody>

export const listFilters = {
  state: z.enum(['open', 'completed', 'issued']).optional(),
  technicianId: idSchema.optional(),
  propertyId: idSchema.optional(),
  from: daySchema.optional(),
  to: daySchema.optional(),
  search: textSchema(100).optional(),
}
export const listQuery = z.strictObject({ ...pageQuery, ...listFilters })
export type ListQuery = z.output<typeof listQuery>
export const csvQuery = z.strictObject(listFilters)
export type InspectionFilter = z.output<typeof csvQuery>

export const inspectionSummary = z.object({
  id: idSchema,
  version: z.number(),
  state: z.string(),
  visitId: idSchema,
  propertyId: idSchema,
  line1: z.string(),
  city: z.string(),
  customerName: z.string(),
  technicianId: idSchema,
  technicianName: z.string(),
  visitStartsAt: z.string(),
  startedAt: z.string(),
  completedAt: z.string().nullable(),
  completedOn: z.string().nullable(),
  findings: z.number(),
  unsafe: z.number(),
  reportVersion: z.number().nullable(),
})
export type InspectionSummary = z.output<typeof inspectionSummary>
export const inspectionPage = pageOf(inspectionSummary)

export const lineView = z.object({
  key: z.string(),
  areaId: z.string(),
  areaTitle: z.string(),
  itemId: z.string(),
  title: z.string(),
  subjectKind: z.string(),
  subjectId: idSchema.nullable(),
  name: z.string(),
  noneRecorded: z.boolean(),
})
export const openView = z.object({
  kind: z.string(),
  itemId: z.string(),
  subjectKind: z.string(),
  subjectId: idSchema.nullable(),
  findingId: idSchema.nullable(),
  text: z.string(),
})
export const progressView = z.object({
  areaId: z.string(),
  title: z.string(),
  lines: z.number(),
  answered: z.number(),
  findings: z.number(),
  notReached: z.number(),
})
export const leftOutView = z.object({
  areaId: z.string(),
  itemId: z.string(),
  title: z.string(),
  reason: z.string(),
})
export const reportSummary = z.object({
  id: idSchema,
  inspectionId: idSchema,
  version: z.number(),
  sha256: z.string(),
  reason: z.string(),
  issuedById: idSchema,
  issuedAt: z.string(),
})
export type ReportSummary = z.output<typeof reportSummary>

export const inspectionView = inspectionRecordView.extend({
  visitId: idSchema,
  propertyId: idSchema,
  technicianName: z.string(),
  property: propertyView,
  jurisdiction: jurisdictionView.nullable(),
  spaces: z.array(spaceView),
  equipment: z.array(equipmentView),
  /** Findings of earlier inspections that have to be answered here. */
  carried: z.array(findingView),
  lines: z.array(lineView),
  open: z.array(openView),
  progress: z.array(progressView),
  leftOut: z.array(leftOutView),
  reports: z.array(reportSummary),
})
export type InspectionView = z.output<typeof inspectionView>

/** Completing and reopening say nothing but that they be done: whatever else comes along is a mistake of the sender. */
export const nothingBody = z.strictObject({}).nullish()

export const completedView = z.object({
  id: idSchema,
  version: z.number(),
  state: z.string(),
  completedAt: z.string().nullable(),
  completedOn: z.string().nullable(),
})
export type CompletedView = z.output<typeof completedView>

/** trade/verdict.ts Verdict with the subject it is about. */
export const verdictsView = z.object({
  verdicts: z.array(
    z.object({
      subjectKind: z.string(),
      subjectId: idSchema.nullable(),
      itemId: z.string().nullable(),
      verdict: openJson,
    }),
  ),
})
export type VerdictsView = z.output<typeof verdictsView>
