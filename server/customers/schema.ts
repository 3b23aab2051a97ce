import { z } from 'zod'
import { VISIT_KINDS, VISIT_STATES } from '../../trade/visits.ts'
import { emailSchema } from '../accounts/schema.ts'
import { putAside } from '../bounces/schema.ts'
import { instantOut, keysOf, phoneSchema, textSchema, yesNoQuery } from '../fields.ts'
import { idSchema } from '../ids.ts'
import { pageOf, pageQuery } from '../paging.ts'

const kindSchema = z.enum(['person', 'firm'], { error: 'expected person or firm' })
const languageSchema = z.enum(['en', 'es'], { error: 'expected en or es' })

const fields = {
  kind: kindSchema,
  name: textSchema(200, 1),
  email: emailSchema.nullable(),
  phone: phoneSchema.nullable(),
  secondPhone: phoneSchema.nullable(),
  language: languageSchema,
  addressLines: z.array(textSchema(200)).max(6, { error: 'expected 6 lines or fewer' }),
  notes: textSchema(4000),
}

/** `id` may be made by the client: the same id again is the same customer. */
export const newCustomerBody = z.strictObject({
  id: idSchema.optional(),
  kind: fields.kind.default('person'),
  name: fields.name,
  email: fields.email.default(null),
  phone: fields.phone.default(null),
  secondPhone: fields.secondPhone.default(null),
  language: fields.language.default('en'),
  addressLines: fields.addressLines.default([]),
  notes: fields.notes.default(''),
})
export type NewCustomerBody = z.output<typeof newCustomerBody>

/** What is left out stays as it is. */
export const changeCustomerBody = z.strictObject(fields).partial()
export type ChangeCustomerBody = z.output<typeof changeCustomerBody>

const filters = {
  /** Names, e-mail, digits of a phone; typing errors are forgiven. */
  q: textSchema(200).optional(),
  archived: yesNoQuery.optional().describe('yes: only archived ones; left out or no: only those in use'),
}
export const customerListQuery = z.strictObject({ ...filters, ...pageQuery })
export const customerExportQuery = z.strictObject(filters)
export type CustomerFilters = z.output<typeof customerExportQuery>

export const customerRecord = z.object({
  id: idSchema,
  kind: kindSchema,
  name: z.string(),
  email: z.string().nullable(),
  phone: z.string().nullable(),
  secondPhone: z.string().nullable(),
  language: languageSchema,
  addressLines: z.array(z.string()),
  notes: z.string(),
  archivedAt: instantOut.nullable(),
  version: z.number().int(),
  createdAt: instantOut,
  updatedAt: instantOut,
})
export type CustomerRecord = z.output<typeof customerRecord>

export const customerRow = customerRecord
  .pick({ id: true, kind: true, name: true, email: true, phone: true, archivedAt: true, createdAt: true })
  .extend({
    /** Homes they have to do with today. */
    homes: z.number().int(),
    /** Address of one of those, in one line. */
    address: z.string().nullable(),
  })
export type CustomerRow = z.output<typeof customerRow>
export const customerPage = pageOf(customerRow)

export const customerView = customerRecord.extend({
  /** Why no e-mail goes to the address; null = it does. */
  emailPutAside: putAside.nullable(),
  homes: z.array(
    z.object({
      propertyId: idSchema,
      line1: z.string(),
      line2: z.string(),
      city: z.string(),
      region: z.string(),
      postcode: z.string(),
      roles: z.array(z.string()),
      isContact: z.boolean(),
      /** False once they have nothing to do with the home any more. */
      current: z.boolean(),
    }),
  ),
  /** Latest first, 50 at most. */
  visits: z.array(
    z.object({
      id: idSchema,
      propertyId: idSchema,
      line1: z.string(),
      kind: z.enum(keysOf(VISIT_KINDS)),
      state: z.enum(keysOf(VISIT_STATES)),
      windowStartsAt: instantOut,
      windowEndsAt: instantOut,
      timeZone: z.string(),
      technicianName: z.string(),
    }),
  ),
  messages: z.object({
    total: z.number().int(),
    failed: z.number().int(),
    lastSentAt: instantOut.nullable(),
    /** Latest first, 20 at most. */
    latest: z.array(
      z.object({
        id: idSchema,
        kind: z.string(),
        category: z.string(),
        subject: z.string().nullable(),
        state: z.string(),
        createdAt: instantOut,
        sentAt: instantOut.nullable(),
      }),
    ),
  }),
})
export type CustomerView = z.output<typeof customerView>

/** Any of these may be given; a record that has one of them in common is named with what it shares. */
export const duplicatesQuery = z.strictObject({
  phone: textSchema(40).optional(),
  email: textSchema(254).optional(),
  line1: textSchema(200).optional(),
  postcode: textSchema(20).optional(),
  /** Leaves out the record that is being edited. */
  exceptId: idSchema.optional(),
})
export type DuplicatesQuery = z.output<typeof duplicatesQuery>

export const duplicatesView = z.object({
  customers: z.array(
    z.object({
      id: idSchema,
      name: z.string(),
      email: z.string().nullable(),
      phone: z.string().nullable(),
      archived: z.boolean(),
      shares: z.array(z.enum(['phone', 'email', 'address'])),
    }),
  ),
  properties: z.array(
    z.object({
      id: idSchema,
      line1: z.string(),
      line2: z.string(),
      city: z.string(),
      postcode: z.string(),
      archived: z.boolean(),
      contactId: idSchema.nullable(),
      contactName: z.string().nullable(),
    }),
  ),
})
export type DuplicatesView = z.output<typeof duplicatesView>
