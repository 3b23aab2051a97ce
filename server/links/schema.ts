import { z } from 'zod'
import { instantOut } from '../fields.ts'
import { idSchema } from '../ids.ts'

// Routes, all for the office:
//   GET  /customers/:id/links           private links of a person, the newest first
//   POST /customers/:id/links           { id, propertyId? }: a fresh one; its address is told once, here
//   POST /customers/:id/links/withdraw  { propertyId? }: every open one, or those of one home
//   POST /links/:id/withdraw            one

export const LINK_PURPOSES = {
  due: 'What is due',
  visit: 'A visit',
  report: 'A report',
  preferences: 'Preferences',
  estimate: 'An estimate',
} as const

export const linkView = z.object({
  id: idSchema,
  purpose: z.string(),
  /** `open` answers; `run-out` and `withdrawn` show a page that says whom to phone. */
  state: z.enum(['open', 'run-out', 'withdrawn']),
  propertyId: idSchema.nullable(),
  line1: z.string().nullable(),
  /** The letter that it stands in; null for one that the office gave out by itself. */
  messageId: idSchema.nullable(),
  messageSubject: z.string().nullable(),
  createdAt: instantOut,
  expiresAt: instantOut,
  withdrawnAt: instantOut.nullable(),
  lastSeenAt: instantOut.nullable(),
})
export type LinkView = z.output<typeof linkView>

export const issueBody = z.strictObject({
  /** Made by the caller: sent twice, it is one link. */
  id: idSchema,
  /** Left out: all homes about which the person is written to. */
  propertyId: idSchema.optional(),
})
export type IssueBody = z.output<typeof issueBody>
/** With the secret address: it is shown to nobody again. */
export const issuedView = linkView.extend({ url: z.string() })
export type IssuedView = z.output<typeof issuedView>

export const withdrawBody = z.strictObject({ propertyId: idSchema.optional() })
export const withdrawnView = z.object({ withdrawn: z.number() })
