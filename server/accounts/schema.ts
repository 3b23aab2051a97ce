import { z } from 'zod'
import { ROLES, type Role } from '../../trade/permissions.ts'
import { idSchema } from '../ids.ts'

export const roleSchema = z.enum(Object.keys(ROLES) as [Role, ...Role[]])

export const emailSchema = z.email({ error: 'expected an e-mail address, such as ana@example.com' }).max(254)
export const passwordSchema = z
  .string()
  .min(12, { error: 'expected 12 characters or more' })
  .max(200, { error: 'expected 200 characters or fewer' })

export const logInBody = z.strictObject({
  email: z.string().trim().min(1).max(254),
  password: z.string().min(1).max(200),
})

export const meView = z.object({
  id: idSchema,
  name: z.string(),
  email: z.string(),
  role: roleSchema,
  /** To be sent as X-CSRF-Token where a browser sends no Origin. */
  csrfToken: z.string(),
  company: z.object({ name: z.string(), phone: z.string(), timeZone: z.string() }),
  /** The company's day. */
  today: z.string(),
  demo: z.boolean(),
})
export type MeView = z.output<typeof meView>

export const sessionView = z.object({
  id: idSchema,
  userAgent: z.string(),
  ip: z.string(),
  createdAt: z.string(),
  lastSeenAt: z.string(),
  current: z.boolean(),
})
export type SessionView = z.output<typeof sessionView>

export const linkTokenBody = z.strictObject({ token: z.string().min(20).max(100), password: passwordSchema })
export const linkTokenQuery = z.strictObject({ token: z.string().min(20).max(100) })
export const linkTokenView = z.object({ email: z.string(), name: z.string(), purpose: z.string() })
export const forgottenBody = z.strictObject({ email: emailSchema })
export const changePasswordBody = z.strictObject({
  current: z.string().min(1).max(200),
  password: passwordSchema,
})
export const doneView = z.object({ done: z.literal(true) })

export const tokenBody = z.strictObject({
  name: z.string().trim().min(1).max(80),
  expiresInDays: z.number().int().min(1).max(730).nullable(),
})
export const tokenView = z.object({
  id: idSchema,
  name: z.string(),
  prefix: z.string(),
  createdAt: z.string(),
  expiresAt: z.string().nullable(),
  lastUsedAt: z.string().nullable(),
})
export type TokenView = z.output<typeof tokenView>
/** `token` is shown this once. */
export const newTokenView = tokenView.extend({ token: z.string() })
