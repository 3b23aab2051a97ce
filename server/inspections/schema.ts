import { z } from 'zod'
import { NOT_REACHED_REASONS, RESULTS } from '../../trade/checklist/item.ts'
import { FINDING_STATES, REVIEW_OUTCOMES } from '../../trade/inspection/finding-states.ts'
import { SEVERITIES } from '../../trade/verdict.ts'
import { daySchema, textSchema } from '../fields.ts'
import { idSchema } from '../ids.ts'
import { pageOf, pageQuery } from '../paging.ts'

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

const keys = <Key extends string>(words: Readonly<Record<Key, unknown>>) =>
  Object.keys(words) as [Key, ...Key[]]

export const instantSchema = z.iso.datetime({
  offset: true,
  error: 'expected an instant, such as 2026-03-14T15:09:26Z',
})
export const itemIdSchema = z.string().min(3).max(80)
export const openJson = z.record(z.string(), z.unknown())
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

/** What is answered at one line. Readings are checked against the fields of the item. */
export const answerBody = z.strictObject({
  ...lineRef,
  result: z.enum(keys(RESULTS)),
  notReachedReason: z.enum(keys(NOT_REACHED_REASONS)).nullable().default(null),
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
  .strictObject({ ...findingChanges, state: z.enum(keys(FINDING_STATES)) })
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

// What is answered ------------------------------------------------------------------------------------------------

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
  outcome: z.enum(keys(REVIEW_OUTCOMES)),
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

/** trade/property.ts Space, with its version. */
export const spaceView = z.object({
  id: idSchema,
  kind: z.string(),
  name: z.string(),
  level: z.number(),
  areaSqFt: z.number().nullable(),
  hasSink: z.boolean().nullable(),
  hasTubOrShower: z.boolean().nullable(),
  hasFuelBurner: z.boolean().nullable(),
  sleepingArea: z.string().nullable(),
  version: z.number(),
})
export type SpaceView = z.output<typeof spaceView>

/** trade/equipment.ts Equipment, with the dates that the rules computed and its version. Retired ones are left out. */
export const equipmentView = z.object({
  id: idSchema,
  kind: z.string(),
  label: z.string(),
  spaceId: idSchema.nullable(),
  parentId: idSchema.nullable(),
  details: openJson,
  manufacturedOn: z.string().nullable(),
  installedOn: z.string().nullable(),
  retiredOn: z.string().nullable(),
  replaceBy: z.string().nullable(),
  replaceByAssumed: z.boolean(),
  lastCheckedOn: z.string().nullable(),
  nextCheckOn: z.string().nullable(),
  version: z.number(),
})
export type EquipmentView = z.output<typeof equipmentView>

/** trade/property.ts Property, with its address and how to get in. */
export const propertyView = z.object({
  id: idSchema,
  line1: z.string(),
  line2: z.string(),
  city: z.string(),
  region: z.string(),
  postcode: z.string(),
  latitude: z.number().nullable(),
  longitude: z.number().nullable(),
  timeZone: z.string(),
  yearBuilt: z.number().nullable(),
  yearAltered: z.number().nullable(),
  levels: z.number().nullable(),
  areaSqFt: z.number().nullable(),
  fuels: z.array(z.string()).nullable(),
  hasGasPiping: z.boolean().nullable(),
  garage: z.string().nullable(),
  garageOpensIntoHome: z.boolean().nullable(),
  tenure: z.string().nullable(),
  lastInspectedOn: z.string().nullable(),
  soldOn: z.string().nullable(),
  accessNotes: z.string(),
})
export type PropertyView = z.output<typeof propertyView>

/** trade/whole-home/context.ts Jurisdiction. */
export const jurisdictionView = z.object({
  name: z.string(),
  isUs: z.boolean(),
  adoptions: z.array(openJson),
  amendments: z.array(openJson),
})

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
