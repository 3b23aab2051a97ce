import { z } from 'zod'
import { REQUEST_SOURCES, REQUEST_STATES, VISIT_KINDS } from '../../trade/visits.ts'
import { newCustomerBody } from '../customers/schema.ts'
import { dayOut, daySchema, instantOut, keysOf, textSchema } from '../fields.ts'
import { idSchema } from '../ids.ts'
import { pageOf, pageQuery } from '../paging.ts'
import { newEquipmentBody } from '../properties/equipment-schema.ts'
import { partyRoleSchema } from '../properties/party-schema.ts'
import { newHomeBody } from '../properties/schema.ts'

const visitKindSchema = z.enum(keysOf(VISIT_KINDS), {
  error: `expected one of ${Object.keys(VISIT_KINDS).join(', ')}`,
})
const stateSchema = z.enum(keysOf(REQUEST_STATES))
const sourceSchema = z.enum(keysOf(REQUEST_SOURCES))

const fields = {
  kind: visitKindSchema,
  reason: textSchema(500, 1),
  preferredDays: z.array(daySchema).max(14, { error: 'expected 14 days or fewer' }),
  preferredTime: textSchema(60),
  note: textSchema(2000),
}

/**
 * Everything that is said in one telephone call, kept whole or not at all. The customer and the home are found
 * (`customerId`, `propertyId`) or new (`customer`, `property` with its spaces and `equipment`).
 */
export const takeRequestBody = z
  .strictObject({
    id: idSchema.optional(),
    customerId: idSchema.optional(),
    customer: newCustomerBody.optional(),
    propertyId: idSchema.optional(),
    property: newHomeBody.optional(),
    /** Equipment that the caller told of, at a new home or a known one. */
    equipment: z.array(newEquipmentBody).max(50).default([]),
    /** What the customer is at the home, where that is new. */
    role: partyRoleSchema.default('owner'),
    kind: fields.kind.default('inspection'),
    reason: fields.reason,
    preferredDays: fields.preferredDays.default([]),
    preferredTime: fields.preferredTime.default(''),
    note: fields.note.default(''),
    source: z.enum(['phone', 'e-mail'], { error: 'expected phone or e-mail' }).default('phone'),
  })
  .refine((body) => (body.customerId === undefined) !== (body.customer === undefined), {
    error: 'give either customerId (found) or customer (new)',
    path: ['customer'],
  })
  .refine((body) => (body.propertyId === undefined) !== (body.property === undefined), {
    error: 'give either propertyId (found) or property (new)',
    path: ['property'],
  })
export type TakeRequestBody = z.output<typeof takeRequestBody>

export const changeRequestBody = z.strictObject(fields).partial()
export type ChangeRequestBody = z.output<typeof changeRequestBody>

export const withdrawRequestBody = z.strictObject({ reason: textSchema(300, 1) })

export const requestListQuery = z.strictObject({
  state: stateSchema.default('waiting'),
  q: textSchema(200).optional(),
  propertyId: idSchema.optional(),
  customerId: idSchema.optional(),
  ...pageQuery,
})
export type RequestListQuery = z.output<typeof requestListQuery>

/** Oldest first while they wait, latest first otherwise. */
export const requestView = z.object({
  id: idSchema,
  customerId: idSchema,
  customerName: z.string(),
  customerPhone: z.string().nullable(),
  customerEmail: z.string().nullable(),
  propertyId: idSchema,
  line1: z.string(),
  line2: z.string(),
  city: z.string(),
  postcode: z.string(),
  timeZone: z.string(),
  kind: visitKindSchema,
  reason: z.string(),
  preferredDays: z.array(dayOut),
  preferredTime: z.string(),
  note: z.string(),
  source: sourceSchema,
  state: stateSchema,
  closedReason: z.string().nullable(),
  /** The visit booked for it, while it stands. */
  visitId: idSchema.nullable(),
  version: z.number().int(),
  createdAt: instantOut,
})
export type RequestView = z.output<typeof requestView>
export const requestPage = pageOf(requestView)
