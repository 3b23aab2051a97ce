import { z } from 'zod'
import { textSchema } from '../fields.ts'
import { idSchema } from '../ids.ts'
import { linkView } from '../links/schema.ts'
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
//   GET  /messages/:id/again               whether it can go out once more with a new link, and when it would
//   POST /messages/:id/again               { id, when? }: the same letter anew; the old link is withdrawn

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
  language: z.enum(['en', 'es']),
  messageIdHeader: z.string(),
  text: z.string().nullable(),
  html: z.string().nullable(),
  calendar: z.string().nullable(),
  /** What it tells of. */
  followUps: z.array(z.object({ id: idSchema, kind: z.string(), subject: z.string(), step: z.string() })),
  /** Everything that happened to it, oldest first; with the other letter where it was sent again. */
  life: z.array(z.object({ at: z.string(), what: z.string(), messageId: idSchema.optional() })),
  /** The private link in it, once it has left the house; null for letters without one. */
  link: z
    .object({ state: linkView.shape.state, expiresAt: z.string(), lastSeenAt: z.string().nullable() })
    .nullable(),
  mayResend: z.boolean(),
  mayCancel: z.boolean(),
  /** Anew, with a new link. */
  maySendAgain: z.boolean(),
})
export type MessageView = z.output<typeof messageView>

export const againView = z.object({
  /** Why it cannot be sent again; null = it can. */
  refusal: z.string().nullable(),
  /** When it goes out: at once, or when the sending hours begin. */
  sendAfter: z.string(),
  /** Outside the sending hours: at once only when that is said. */
  isQuiet: z.boolean(),
  /** Of the home, or of the first home that it tells of. */
  zone: z.string(),
  there: z.object({ day: z.string(), time: z.string() }),
})
export type AgainView = z.output<typeof againView>
export const againBody = z.strictObject({
  /** Of the new message, made by the caller: sent twice, it is one. */
  id: idSchema,
  /** `by-day` waits for the sending hours; `now` goes out at night, too. */
  when: z.enum(['by-day', 'now']).default('by-day'),
})
export type AgainBody = z.output<typeof againBody>

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
