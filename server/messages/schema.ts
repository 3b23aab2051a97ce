import { z } from 'zod'
import { textSchema } from '../fields.ts'
import { idSchema } from '../ids.ts'
import { pageOf, pageQuery } from '../paging.ts'
import { MESSAGE_CATEGORIES, MESSAGE_KINDS, type MessageCategory, type MessageKind } from './categories.ts'

// Routes, all for the office:
//   GET  /messages                         list, newest first; state, kind, category, customer, home, search
//   GET  /messages/export.csv                the same list as a file
//   GET  /messages/numbers                 how many in each state in the last 30 days
//   GET  /messages/templates               every kind with its category
//   GET  /messages/templates/:kind         a kind rendered with sample data, in en or es
//   GET  /messages/:id                     one message with its text and its life
//   POST /messages/:id/resend              failed, bounced or held back: try again
//   POST /messages/:id/cancel              planned: do not send

export const MESSAGE_STATES = {
  planned: 'Waiting to be sent',
  sending: 'Being sent',
  sent: 'Handed over',
  failed: 'Gave up',
  bounced: 'Came back',
  suppressed: 'Held back',
  cancelled: 'Cancelled',
} as const
export type MessageState = keyof typeof MESSAGE_STATES

const keys = <Key extends string>(words: Readonly<Record<Key, unknown>>) =>
  Object.keys(words) as [Key, ...Key[]]

const filters = {
  state: z.enum(keys<MessageState>(MESSAGE_STATES)).optional(),
  kind: z.enum(keys<MessageKind>(MESSAGE_KINDS)).optional(),
  category: z.enum(keys<MessageCategory>(MESSAGE_CATEGORIES)).optional(),
  customerId: idSchema.optional(),
  propertyId: idSchema.optional(),
  search: textSchema(100).optional(),
}
export const messageListQuery = z.strictObject({ ...pageQuery, ...filters })
export const messageCsvQuery = z.strictObject(filters)
export type MessageListQuery = z.output<typeof messageListQuery>

export const messageSummary = z.object({
  id: idSchema,
  kind: z.string(),
  category: z.string(),
  state: z.enum(keys<MessageState>(MESSAGE_STATES)),
  toAddress: z.string(),
  toName: z.string(),
  subject: z.string().nullable(),
  reason: z.string(),
  customerId: idSchema.nullable(),
  propertyId: idSchema.nullable(),
  propertyLine: z.string().nullable(),
  visitId: idSchema.nullable(),
  attempts: z.number(),
  lastError: z.string().nullable(),
  sendAfter: z.string(),
  sentAt: z.string().nullable(),
  openedPageAt: z.string().nullable(),
  actedAt: z.string().nullable(),
  createdAt: z.string(),
})
export type MessageSummary = z.output<typeof messageSummary>
export const messagePage = pageOf(messageSummary)

export const messageView = messageSummary.extend({
  language: z.string(),
  messageIdHeader: z.string(),
  text: z.string().nullable(),
  html: z.string().nullable(),
  calendar: z.string().nullable(),
  /** What it tells of. */
  followUps: z.array(z.object({ id: idSchema, kind: z.string(), subject: z.string(), step: z.string() })),
  /** Everything that happened to it, oldest first. */
  life: z.array(z.object({ at: z.string(), what: z.string() })),
  mayResend: z.boolean(),
  mayCancel: z.boolean(),
})
export type MessageView = z.output<typeof messageView>

export const messageNumbers = z.object({
  planned: z.number(),
  sending: z.number(),
  sent: z.number(),
  failed: z.number(),
  bounced: z.number(),
  suppressed: z.number(),
  cancelled: z.number(),
})
export type MessageNumbers = z.output<typeof messageNumbers>

export const kindParams = z.strictObject({ kind: z.enum(keys<MessageKind>(MESSAGE_KINDS)) })
export const previewQuery = z.strictObject({ language: z.enum(['en', 'es']).default('en') })
export const templateList = z.array(
  z.object({ kind: z.string(), category: z.string(), categoryTitle: z.string() }),
)
export const preview = z.object({
  subject: z.string(),
  html: z.string(),
  text: z.string(),
  calendar: z.string().nullable(),
})
export type MessagePreview = z.output<typeof preview>
