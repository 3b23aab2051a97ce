import { z } from 'zod'
import { VISIT_KINDS, VISIT_STATES, type VisitKind, type VisitState } from '../../trade/visits.ts'
import { dayOut, daySchema, instantOut, textSchema, timeSchema } from '../fields.ts'
import { idSchema } from '../ids.ts'
import { pageOf, pageQuery } from '../paging.ts'

export const visitKindSchema = z.enum(Object.keys(VISIT_KINDS) as [VisitKind, ...VisitKind[]], {
  error: `expected one of ${Object.keys(VISIT_KINDS).join(', ')}`,
})
export const visitStateSchema = z.enum(Object.keys(VISIT_STATES) as [VisitState, ...VisitState[]], {
  error: `expected one of ${Object.keys(VISIT_STATES).join(', ')}`,
})
const lengthSchema = z
  .number({ error: 'expected minutes, 10 to 1440' })
  .int({ error: 'expected whole minutes, 10 to 1440' })
  .min(10, { error: 'expected minutes, 10 to 1440' })
  .max(1440, { error: 'expected minutes, 10 to 1440' })

/** A day and times on the wall of the property's zone. */
const appointment = {
  day: daySchema,
  windowStart: timeSchema,
  windowEnd: timeSchema,
  /** What the technician's day is planned by; left out: the window's start. */
  startsAt: timeSchema.optional(),
  technicianId: idSchema,
}

export const bookVisitBody = z
  .strictObject({
    id: idSchema.optional(),
    /** The request that it answers; then customer, property and kind come from there unless given. */
    requestId: idSchema.optional(),
    customerId: idSchema.optional(),
    propertyId: idSchema.optional(),
    kind: visitKindSchema.optional(),
    ...appointment,
    /** Left out: what a home of that size and age takes. */
    lengthMinutes: lengthSchema.optional(),
    note: textSchema(2000).default(''),
  })
  .refine(
    (body) =>
      body.requestId !== undefined || (body.customerId !== undefined && body.propertyId !== undefined),
    {
      error: 'give requestId, or customerId and propertyId',
      path: ['requestId'],
    },
  )
export type BookVisitBody = z.output<typeof bookVisitBody>

/** Another time, and another technician if one is named. The customer is told. */
export const moveVisitBody = z.strictObject({
  ...appointment,
  technicianId: idSchema.optional(),
  lengthMinutes: lengthSchema.optional(),
})
export type MoveVisitBody = z.output<typeof moveVisitBody>

/** Another technician at the same time. The customer is not told. */
export const reassignVisitBody = z.strictObject({ technicianId: idSchema })

export const changeVisitBody = z
  .strictObject({ note: textSchema(2000), kind: visitKindSchema, lengthMinutes: lengthSchema })
  .partial()
export type ChangeVisitBody = z.output<typeof changeVisitBody>

export const closeVisitBody = z.strictObject({ reason: textSchema(500, 1) })

const filters = {
  /** Days in the company's zone, both included. */
  from: daySchema.optional(),
  to: daySchema.optional(),
  technicianId: idSchema.optional(),
  state: visitStateSchema.optional(),
  kind: visitKindSchema.optional(),
  propertyId: idSchema.optional(),
  customerId: idSchema.optional(),
  /** Address, name or phone; typing errors are forgiven. */
  q: textSchema(200).optional(),
}
export const visitListQuery = z.strictObject({
  ...filters,
  order: z.enum(['earliest', 'latest'], { error: 'expected earliest or latest' }).default('earliest'),
  ...pageQuery,
})
export const visitExportQuery = z.strictObject(filters)
export type VisitFilters = z.output<typeof visitExportQuery>

export const visitRow = z.object({
  id: idSchema,
  kind: visitKindSchema,
  state: visitStateSchema,
  windowStartsAt: instantOut,
  windowEndsAt: instantOut,
  startsAt: instantOut,
  endsAt: instantOut,
  lengthMinutes: z.number().int(),
  technicianId: idSchema,
  technicianName: z.string(),
  customerId: idSchema,
  customerName: z.string(),
  customerPhone: z.string().nullable(),
  propertyId: idSchema,
  line1: z.string(),
  line2: z.string(),
  city: z.string(),
  postcode: z.string(),
  timeZone: z.string(),
  note: z.string(),
  /** The customer said that somebody will be at home. */
  confirmedAt: instantOut.nullable(),
})
export type VisitRow = z.output<typeof visitRow>
export const visitPage = pageOf(visitRow)

export const visitView = visitRow.extend({
  requestId: idSchema.nullable(),
  customerEmail: z.string().nullable(),
  latitude: z.number().nullable(),
  longitude: z.number().nullable(),
  accessNotes: z.string(),
  sequence: z.number().int(),
  travelStartedAt: instantOut.nullable(),
  arrivedAt: instantOut.nullable(),
  finishedAt: instantOut.nullable(),
  closedReason: z.string().nullable(),
  inspectionId: idSchema.nullable(),
  inspectionState: z.string().nullable(),
  version: z.number().int(),
  createdAt: instantOut,
})
export type VisitView = z.output<typeof visitView>

export const dayQuery = z.strictObject({ day: daySchema })

/** One day of the whole company: technicians with their visits in order, also those without any. */
export const dayView = z.object({
  day: dayOut,
  technicians: z.array(
    z.object({
      id: idSchema,
      name: z.string(),
      phone: z.string().nullable(),
      visits: z.array(
        z.object({
          id: idSchema,
          kind: visitKindSchema,
          state: visitStateSchema,
          windowStartsAt: instantOut,
          windowEndsAt: instantOut,
          startsAt: instantOut,
          endsAt: instantOut,
          lengthMinutes: z.number().int(),
          customerId: idSchema,
          customerName: z.string(),
          customerPhone: z.string().nullable(),
          propertyId: idSchema,
          line1: z.string(),
          line2: z.string(),
          city: z.string(),
          postcode: z.string(),
          timeZone: z.string(),
          latitude: z.number().nullable(),
          longitude: z.number().nullable(),
          note: z.string(),
          confirmedAt: instantOut.nullable(),
          inspectionId: idSchema.nullable(),
          inspectionState: z.string().nullable(),
          version: z.number().int(),
        }),
      ),
    }),
  ),
})
export type DayView = z.output<typeof dayView>

/** A technician's own day, in order, with what is known and still open at each home. */
export const myDayView = z.object({
  day: dayOut,
  visits: z.array(
    visitView.extend({
      /** Everybody who may be rung up, the contact first. */
      people: z.array(
        z.object({
          name: z.string(),
          phone: z.string().nullable(),
          role: z.string(),
          isContact: z.boolean(),
        }),
      ),
      yearBuilt: z.number().int().nullable(),
      fuels: z.array(z.string()),
      levels: z.number().int().nullable(),
      garage: z.string().nullable(),
      lastInspectedOn: dayOut.nullable(),
      spaces: z.number().int(),
      equipment: z.number().int(),
      /** Most serious first, 20 at most. */
      openFindings: z.array(
        z.object({
          id: idSchema,
          severity: z.string(),
          text: z.string(),
          foundOn: dayOut,
          state: z.string(),
        }),
      ),
      /** Due within 90 days or overdue, 20 at most. */
      due: z.array(
        z.object({ id: idSchema, kind: z.string(), dueOn: dayOut, assumed: z.boolean(), reason: z.string() }),
      ),
    }),
  ),
})

export const freeWindowsQuery = z.strictObject({
  from: daySchema,
  /** How many days, from `from` on. */
  days: z.coerce.number().int().min(1).max(31).default(7),
  /** Minutes; left out: what the home takes. */
  length: z.coerce.number().int().min(10).max(1440).optional(),
  propertyId: idSchema,
})
export type FreeWindowsQuery = z.output<typeof freeWindowsQuery>

export const freeWindowsView = z.object({
  timeZone: z.string(),
  lengthMinutes: z.number().int(),
  windows: z.array(
    z.object({
      day: dayOut,
      /** Wall times in the property's zone. */
      windowStart: z.string(),
      windowEnd: z.string(),
      windowStartsAt: instantOut,
      windowEndsAt: instantOut,
      /** Who could come, and when they would begin. */
      technicians: z.array(z.object({ id: idSchema, name: z.string(), startsAt: z.string() })),
    }),
  ),
})
export type FreeWindowsView = z.output<typeof freeWindowsView>
