import { z } from 'zod'
import { emailSchema, roleSchema } from '../accounts/schema.ts'
import { phoneSchema } from '../fields.ts'
import { idSchema } from '../ids.ts'

export const inviteBody = z.strictObject({
  id: idSchema.optional(),
  name: z.string().trim().min(1).max(120),
  email: emailSchema,
  phone: phoneSchema.nullable().default(null),
  role: roleSchema,
})
export const personChange = z
  .strictObject({
    name: z.string().trim().min(1).max(120),
    phone: phoneSchema.nullable(),
    role: roleSchema,
    disabled: z.boolean(),
  })
  .partial()
export const personView = z.object({
  id: idSchema,
  name: z.string(),
  email: z.string(),
  phone: z.string().nullable(),
  role: roleSchema,
  /** Invited and not yet come in. */
  invited: z.boolean(),
  disabled: z.boolean(),
  lockedUntil: z.string().nullable(),
  lastSeenAt: z.string().nullable(),
  version: z.number(),
})
export type PersonView = z.output<typeof personView>

/** Names only: for choosing a technician. */
export const technicianView = z.object({ id: idSchema, name: z.string(), phone: z.string().nullable() })
export type TechnicianView = z.output<typeof technicianView>

/** The link is shown so that an admin can hand it over where no e-mail leaves. */
export const invitationView = z.object({ person: personView, link: z.string(), sent: z.boolean() })
