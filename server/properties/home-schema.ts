import { z } from 'zod'
import { VISIT_KINDS, VISIT_STATES, type VisitKind, type VisitState } from '../../trade/visits.ts'
import { dayOut, instantOut } from '../fields.ts'
import { idSchema } from '../ids.ts'
import { equipmentView } from './equipment-schema.ts'
import { partyView } from './party-schema.ts'
import { propertyRecord } from './schema.ts'
import { spaceView } from './space-schema.ts'

const visitKind = z.enum(Object.keys(VISIT_KINDS) as [VisitKind, ...VisitKind[]])
const visitState = z.enum(Object.keys(VISIT_STATES) as [VisitState, ...VisitState[]])

/** A home whole: what the office sees on one screen. Technicians get no messages and no estimates. */
export const homeView = propertyRecord.extend({
  jurisdictionName: z.string().nullable(),
  /** Those of today first. */
  parties: z.array(partyView),
  spaces: z.array(spaceView.omit({ propertyId: true })),
  equipment: z.array(equipmentView.omit({ propertyId: true })),
  /** Still open, most serious first. */
  findings: z.array(
    z.object({
      id: idSchema,
      inspectionId: idSchema,
      itemId: z.string(),
      spaceId: idSchema.nullable(),
      equipmentId: idSchema.nullable(),
      severity: z.string(),
      text: z.string(),
      correction: z.string(),
      state: z.string(),
      makeSafe: z.string().nullable(),
      foundOn: dayOut,
      watchUntil: dayOut.nullable(),
      version: z.number().int(),
    }),
  ),
  /** How many were ever found and are closed. */
  closedFindings: z.number().int(),
  requests: z.array(
    z.object({
      id: idSchema,
      customerId: idSchema,
      kind: visitKind,
      reason: z.string(),
      preferredDays: z.array(dayOut),
      state: z.string(),
      createdAt: instantOut,
    }),
  ),
  /** Latest first. */
  visits: z.array(
    z.object({
      id: idSchema,
      kind: visitKind,
      state: visitState,
      windowStartsAt: instantOut,
      windowEndsAt: instantOut,
      startsAt: instantOut,
      lengthMinutes: z.number().int(),
      technicianId: idSchema,
      technicianName: z.string(),
      note: z.string(),
      closedReason: z.string().nullable(),
      inspectionId: idSchema.nullable(),
    }),
  ),
  inspections: z.array(
    z.object({
      id: idSchema,
      visitId: idSchema,
      state: z.string(),
      startedAt: instantOut,
      completedOn: dayOut.nullable(),
      technicianName: z.string(),
      findings: z.number().int(),
    }),
  ),
  reports: z.array(
    z.object({
      id: idSchema,
      inspectionId: idSchema,
      version: z.number().int(),
      issuedAt: instantOut,
      reason: z.string(),
    }),
  ),
  /** Open ones by day, then the last 50 closed. */
  followUps: z.array(
    z.object({
      id: idSchema,
      kind: z.string(),
      subjectKind: z.string(),
      subjectId: idSchema,
      dueOn: dayOut,
      assumed: z.boolean(),
      reason: z.string(),
      state: z.string(),
      nextNoticeOn: dayOut.nullable(),
      closedAt: instantOut.nullable(),
      closedReason: z.string().nullable(),
      version: z.number().int(),
    }),
  ),
  /** Latest first, 100 at most. */
  messages: z.array(
    z.object({
      id: idSchema,
      kind: z.string(),
      category: z.string(),
      toName: z.string(),
      subject: z.string().nullable(),
      state: z.string(),
      reason: z.string(),
      createdAt: instantOut,
      sentAt: instantOut.nullable(),
    }),
  ),
  estimates: z.array(
    z.object({
      id: idSchema,
      number: z.number().int(),
      state: z.string(),
      expiresOn: dayOut.nullable(),
      sentAt: instantOut.nullable(),
    }),
  ),
})
export type HomeView = z.output<typeof homeView>
