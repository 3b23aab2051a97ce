import { z } from 'zod'
import { daySchema } from '../fields.ts'
import { idSchema } from '../ids.ts'
import { equipmentView, jurisdictionView, propertyView, spaceView } from '../inspections/home-schema.ts'
import { findingView, inspectionRecordView } from '../inspections/record-schema.ts'

// GET /field/pack: everything that a technician needs for some days without signal, as one answer.

export const packQuery = z.strictObject({
  day: daySchema.optional().describe("The first day; the company's today when left out"),
  days: z.coerce.number().int().min(1).max(14).default(3),
  technicianId: idSchema.optional().describe('For the office: whose days'),
})
export type PackQuery = z.output<typeof packQuery>

export const packVisit = z.object({
  /** Changes when anything below changes: a device replaces only what is new. */
  etag: z.string(),
  id: idSchema,
  version: z.number(),
  kind: z.string(),
  state: z.string(),
  windowStartsAt: z.string(),
  windowEndsAt: z.string(),
  startsAt: z.string(),
  endsAt: z.string(),
  note: z.string(),
  travelStartedAt: z.string().nullable(),
  arrivedAt: z.string().nullable(),
  finishedAt: z.string().nullable(),
  customer: z.object({
    id: idSchema,
    name: z.string(),
    phone: z.string().nullable(),
    secondPhone: z.string().nullable(),
    email: z.string().nullable(),
    language: z.string(),
  }),
  property: propertyView,
  jurisdiction: jurisdictionView.nullable(),
  spaces: z.array(spaceView),
  equipment: z.array(equipmentView),
  /** Findings of earlier inspections that are not closed: to be answered at this one. */
  carried: z.array(findingView),
  /** Earlier inspections of this home, newest first. */
  history: z.array(
    z.object({
      inspectionId: idSchema,
      completedOn: z.string(),
      technicianName: z.string(),
      findings: z.number(),
      unsafe: z.number(),
      note: z.string(),
    }),
  ),
  /** Null until it is begun. */
  inspection: inspectionRecordView.nullable(),
})
export type PackVisit = z.output<typeof packVisit>

export const packView = z.object({
  serverTime: z.string(),
  day: z.string(),
  days: z.number(),
  checklistVersion: z.number(),
  company: z.object({ name: z.string(), phone: z.string(), timeZone: z.string() }),
  technician: z.object({ id: idSchema, name: z.string() }),
  visits: z.array(packVisit),
})
export type PackView = z.output<typeof packView>
