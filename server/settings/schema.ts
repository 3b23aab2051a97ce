import { z } from 'zod'
import { EDITIONS } from '../../trade/editions.ts'
import { emailSchema } from '../accounts/schema.ts'
import { daySchema, phoneSchema } from '../fields.ts'
import { idSchema } from '../ids.ts'
import { isTimeZone } from '../time.ts'

export const timeZoneSchema = z
  .string()
  .max(60)
  .refine(isTimeZone, { error: 'expected an IANA time zone, such as America/New_York' })

export const companyBody = z
  .strictObject({
    name: z.string().trim().min(1).max(120),
    phone: phoneSchema,
    email: emailSchema,
    addressLines: z.array(z.string().trim().min(1).max(120)).min(1).max(5),
    timeZone: timeZoneSchema,
  })
  .partial()
export const companyView = z.object({
  name: z.string(),
  phone: z.string(),
  email: z.string(),
  addressLines: z.array(z.string()),
  timeZone: z.string(),
  policy: z.record(z.string(), z.unknown()),
  version: z.number(),
})
export type CompanyView = z.output<typeof companyView>

const editionSchema = z.enum(EDITIONS)
export const adoptionSchema = z.strictObject({ edition: editionSchema, from: daySchema })
export const amendmentSchema = z.strictObject({
  requirement: z.string().trim().min(3).max(120),
  effect: z.enum(['add', 'remove', 'postpone']),
  from: daySchema,
  source: z.string().trim().min(1).max(300),
  note: z.string().max(500).optional(),
})
export const jurisdictionBody = z.strictObject({
  id: idSchema.optional(),
  name: z.string().trim().min(1).max(120),
  region: z.string().trim().max(60),
  isUs: z.boolean().default(true),
  adoptions: z.array(adoptionSchema).max(40),
  amendments: z.array(amendmentSchema).max(200).default([]),
})
export const jurisdictionChange = jurisdictionBody.omit({ id: true }).partial()
export const jurisdictionView = z.object({
  id: idSchema,
  name: z.string(),
  region: z.string(),
  isUs: z.boolean(),
  adoptions: z.array(z.object({ edition: z.string(), from: z.string() })),
  /** `by` and `at` are written down by the server. */
  amendments: z.array(
    z.object({
      requirement: z.string(),
      effect: z.string(),
      from: z.string(),
      source: z.string(),
      note: z.string().optional(),
      by: z.string().optional(),
      at: z.string().optional(),
    }),
  ),
  version: z.number(),
})
export type JurisdictionView = z.output<typeof jurisdictionView>

export const auditQuery = {
  subjectKind: z.string().max(40).optional(),
  subjectId: idSchema.optional(),
}
export const auditView = z.object({
  id: idSchema,
  at: z.string(),
  actorKind: z.string(),
  actorName: z.string().nullable(),
  action: z.string(),
  subjectKind: z.string(),
  subjectId: z.string().nullable(),
  before: z.unknown(),
  after: z.unknown(),
})
