import { z } from 'zod'
import { daySchema, textSchema, timeSchema } from '../fields.ts'
import { idSchema } from '../ids.ts'
import { visitKindSchema } from '../visits/schema.ts'

// Routes, all for the office:
//   POST /follow-ups/booking-plan   { ids, technicianId, day, from }: arrival windows one after another; nothing is kept
//   POST /follow-ups/bulk-booking   { technicianId, day, visits }: books all of them, or none

const MOST_HOMES = 12

export const bookingPlanBody = z.strictObject({
  ids: z.array(idSchema).min(1).max(200),
  technicianId: idSchema,
  day: daySchema,
  /** The first home is not reached before this time of day. */
  from: timeSchema.default('08:00'),
})
export type BookingPlanBody = z.output<typeof bookingPlanBody>

export const plannedStop = z.object({
  propertyId: idSchema,
  line1: z.string(),
  city: z.string(),
  customerId: idSchema.nullable(),
  customerName: z.string().nullable(),
  customerPhone: z.string().nullable(),
  hasEmail: z.boolean(),
  kind: visitKindSchema,
  lengthMinutes: z.number(),
  /** What one visit sees to there, in words. */
  sees: z.array(z.string()),
  requestId: idSchema.nullable(),
  /** Wall times of the home; null where there is no place for it. */
  windowStart: z.string().nullable(),
  windowEnd: z.string().nullable(),
  startsAt: z.string().nullable(),
  /** Why it cannot be booked like this, and what to do. */
  conflict: z.string().nullable(),
})
export type PlannedStop = z.output<typeof plannedStop>
export const bookingPlan = z.object({
  technicianName: z.string(),
  stops: z.array(plannedStop),
  left: z.array(z.object({ id: idSchema, why: z.string() })),
})
export type BookingPlan = z.output<typeof bookingPlan>

const stopToBook = z.strictObject({
  /** The visit's id, made by the caller: sent twice, it is one visit. */
  id: idSchema,
  propertyId: idSchema,
  customerId: idSchema,
  kind: visitKindSchema,
  requestId: idSchema.optional(),
  windowStart: timeSchema,
  windowEnd: timeSchema,
  startsAt: timeSchema,
  lengthMinutes: z.number().int().min(10).max(1440),
  note: textSchema(2000).default(''),
})
export const bulkBookingBody = z
  .strictObject({
    technicianId: idSchema,
    day: daySchema,
    visits: z.array(stopToBook).min(1).max(MOST_HOMES),
  })
  .refine(({ visits }) => new Set(visits.map(({ propertyId }) => propertyId)).size === visits.length, {
    error: 'one home twice; book one visit for all that is due there',
    path: ['visits'],
  })
export type BulkBookingBody = z.output<typeof bulkBookingBody>
export const bulkBooked = z.object({
  visits: z.array(z.object({ id: idSchema, line1: z.string(), windowStartsAt: z.string() })),
  /** Customers who get no letter, to be phoned. */
  toPhone: z.array(z.string()),
})
export type BulkBooked = z.output<typeof bulkBooked>
