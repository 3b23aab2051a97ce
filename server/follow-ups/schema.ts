import { z } from 'zod'
import { FOLLOW_UP_KIND_IDS } from '../../trade/follow-ups/kind.ts'
import { daySchema, keysOf, textSchema } from '../fields.ts'
import { idSchema } from '../ids.ts'
import { pageOf, pageQuery } from '../paging.ts'

// Routes, all for the office:
//   GET  /follow-ups               worklist: tab, only, kind, city, street, week, search; overdue first
//   GET  /follow-ups/groups        the same, added up by week or by street
//   GET  /follow-ups/export.csv      the same list as a file
//   GET  /follow-ups/numbers       due this month, answered, booked, ignored twice, bounced; and each tab's count
//   GET  /follow-ups/dangers       what is unsafe somewhere right now
//   POST /follow-ups/bulk          message now | dismiss | log call, for up to 200 at once
//   POST /follow-ups/messages-preview  how many letters `message` would write, and whom it leaves out
//   GET  /follow-ups/:id           one, with its messages, calls and what to say on the phone
//   GET  /follow-ups/:id/booking   what the booking form is filled with: customer, home, kind, length, reason
//   POST /follow-ups/:id/dismiss   { reason }
//   POST /follow-ups/:id/snooze    { until }
//   POST /follow-ups/:id/call      { outcome, note }
//   POST /follow-ups/:id/done      { reason }
//   POST /follow-ups/:id/reopen    undoes dismiss and done
//   POST /follow-ups/surge-event   a storm passed: asks for a look at the protectors there; its preview counts them

/** due: to be done now; coming: later; waiting: the customer was told or asked and has the next word; done: ended. */
export const TABS = {
  due: 'Due',
  coming: 'Coming',
  waiting: 'Waiting for the customer',
  done: 'Done',
} as const
export type Tab = keyof typeof TABS

export const CALL_OUTCOMES = {
  reached: 'Reached',
  'no-answer': 'No answer',
  'will-call-back': 'They call back',
  'call-later': 'To be called again',
  declined: 'Declined',
  'wrong-number': 'Wrong number',
} as const
export type CallOutcome = keyof typeof CALL_OUTCOMES

export const dayIn = daySchema.refine((value) => value >= '1900-01-01' && value <= '2200-12-31', {
  error: 'expected a day between 1900 and 2200',
})
const noteSchema = textSchema(2000).default('')
const reasonSchema = textSchema(500).refine((value) => value !== '', { error: 'say why, in a few words' })

const ONLY = ['month', 'answered', 'booked', 'ignored', 'bounced'] as const

const worklistFilter = {
  tab: z.enum(keysOf(TABS)).default('due'),
  kind: z.enum(FOLLOW_UP_KIND_IDS).optional(),
  city: textSchema(100).optional(),
  street: z
    .string()
    .trim()
    .max(100)
    .optional()
    .describe('Part of the street, so that one trip serves several homes'),
  onStreet: textSchema(200).optional().describe('The whole name of the street, without the number'),
  week: z
    .union([dayIn, z.literal('earlier')], { error: 'expected a day, or “earlier”' })
    .optional()
    .describe('Any day of the week in which it is due; earlier: before this week'),
  search: textSchema(100).optional(),
  propertyId: idSchema.optional(),
  only: z
    .enum(ONLY, { error: `expected one of ${ONLY.join(', ')}` })
    .optional()
    .describe('Those that a figure of GET /follow-ups/numbers counts, on whatever tab'),
}
export const worklistQuery = z.strictObject({ ...pageQuery, ...worklistFilter })
export type WorklistQuery = z.output<typeof worklistQuery>
export const worklistCsvQuery = z.strictObject(worklistFilter)
export type WorklistFilters = z.output<typeof worklistCsvQuery>
export const groupsQuery = z.strictObject({ ...worklistFilter, by: z.enum(['week', 'street']) })
export type GroupsQuery = z.output<typeof groupsQuery>
export const worklistGroup = z.object({
  /** The Monday of a week, or `earlier`; the name of a street. */
  key: z.string(),
  city: z.string().nullable(),
  homes: z.number(),
  followUps: z.number(),
  /** Of these, past their date at the home. */
  overdue: z.number(),
  earliest: z.string(),
})
export type WorklistGroup = z.output<typeof worklistGroup>

export const followUpSummary = z.object({
  id: idSchema,
  version: z.number(),
  kind: z.string(),
  kindTitle: z.string(),
  subjectKind: z.string(),
  subjectId: idSchema,
  /** The name of what it is about: `Hall smoke alarm`. */
  subject: z.string(),
  dueOn: z.string(),
  /** Days past the due date in the home's time zone; negative while it is to come. */
  overdueDays: z.number(),
  assumed: z.boolean(),
  reason: z.string(),
  state: z.string(),
  severity: z.string().nullable(),
  lastStep: z.string().nullable(),
  /** What the office is to do for the last step: `call`, `letter`; null = nothing. */
  task: z.string().nullable(),
  /** What happens next; null = it has ended. */
  next: z
    .object({
      how: z.enum(['mail', 'call', 'letter', 'booked', 'asked', 'rests', 'nobody', 'nothing']),
      /** Null = now. */
      on: z.string().nullable(),
      /** Days past its due date when it was first seen, where that is why nobody is written to. */
      overdueWhenSeen: z.number().nullable(),
    })
    .nullable(),
  nextNoticeOn: z.string().nullable(),
  snoozedUntil: z.string().nullable(),
  closedAt: z.string().nullable(),
  closedReason: z.string().nullable(),
  requestId: idSchema.nullable(),
  visitId: idSchema.nullable(),
  propertyId: idSchema,
  line1: z.string(),
  city: z.string(),
  postcode: z.string(),
  timeZone: z.string(),
  customerId: idSchema.nullable(),
  customerName: z.string().nullable(),
  customerPhone: z.string().nullable(),
  customerEmail: z.string().nullable(),
  customerLanguage: z.enum(['en', 'es']).nullable(),
  /** The newest message about it. */
  messageId: idSchema.nullable(),
  messageState: z.string().nullable(),
  messageSentAt: z.string().nullable(),
  messagesSent: z.number(),
  /** How the newest message ended where it reached nobody and nobody has phoned since: phone them. */
  notArrived: z.enum(['failed', 'bounced', 'suppressed']).nullable(),
  lastCallAt: z.string().nullable(),
  lastCallOutcome: z.string().nullable(),
})
export type FollowUpSummary = z.output<typeof followUpSummary>
export const worklistPage = pageOf(followUpSummary)

export const followUpView = followUpSummary.extend({
  messages: z.array(
    z.object({
      id: idSchema,
      kind: z.string(),
      state: z.string(),
      step: z.string(),
      subject: z.string().nullable(),
      sentAt: z.string().nullable(),
      openedPageAt: z.string().nullable(),
      actedAt: z.string().nullable(),
      createdAt: z.string(),
    }),
  ),
  calls: z.array(
    z.object({ id: idSchema, outcome: z.string(), note: z.string(), by: z.string(), at: z.string() }),
  ),
  /** What they said on their page, the latest first. */
  answers: z.array(z.object({ id: idSchema, words: z.string(), at: z.string() })),
  /** What to say on the phone, line by line, in the language of the customer. */
  script: z.array(z.string()),
})
export type FollowUpView = z.output<typeof followUpView>

export const worklistNumbers = z.object({
  dueThisMonth: z.number(),
  answered: z.number(),
  booked: z.number(),
  /** Two messages or more, and never a word: phone them. */
  ignoredTwice: z.number(),
  bounced: z.number(),
  /** What people said on their pages and nobody has looked at yet. */
  toLookAt: z.number(),
  due: z.number(),
  coming: z.number(),
  waiting: z.number(),
})
export type WorklistNumbers = z.output<typeof worklistNumbers>

/** Something unsafe, from the moment it was written down on site. */
export const danger = z.object({
  id: idSchema,
  text: z.string(),
  makeSafe: z.string().nullable(),
  foundOn: z.string(),
  state: z.string(),
  isRefused: z.boolean(),
  /** The technician is still at it. */
  isOnSite: z.boolean(),
  technicianName: z.string(),
  inspectionId: idSchema,
  propertyId: idSchema,
  line1: z.string(),
  city: z.string(),
  customerName: z.string().nullable(),
  customerPhone: z.string().nullable(),
  /** Somebody has reached the customer about it. */
  isTold: z.boolean(),
})
export type Danger = z.output<typeof danger>

export const dismissBody = z.strictObject({ reason: reasonSchema })
export const doneBody = z.strictObject({ reason: reasonSchema })
export const snoozeBody = z.strictObject({ until: dayIn })
export const callBody = z.strictObject({
  outcome: z.enum(keysOf(CALL_OUTCOMES)),
  note: noteSchema,
  /** For `call-later`: when; left out, the next working day. */
  again: dayIn.optional(),
})
export type CallBody = z.output<typeof callBody>

export const bulkBody = z.strictObject({
  action: z.enum(['message', 'dismiss', 'call']),
  ids: z.array(idSchema).min(1).max(200),
  /** For `dismiss`. */
  reason: reasonSchema.optional(),
  /** For `call`. */
  outcome: z.enum(keysOf(CALL_OUTCOMES)).optional(),
  note: noteSchema,
  all: z
    .boolean()
    .default(false)
    .describe(
      'For `message`: also to those who had a letter lately, rest, or have asked for or booked a visit',
    ),
})
export type BulkBody = z.output<typeof bulkBody>
export const bulkResult = z.object({
  done: z.number(),
  /** Messages written: several things at one household are one message. */
  messages: z.number(),
  /** What was left alone, and why. */
  left: z.array(z.object({ id: idSchema, why: z.string() })),
})
export type BulkResult = z.output<typeof bulkResult>

export const messagesPreviewBody = z.strictObject({ ids: z.array(idSchema).min(1).max(200) })
export const messagesPreview = z.object({
  letters: z.number(),
  /** With `all`. */
  lettersToAll: z.number(),
  /** Left out without `all`, in words. */
  held: z.array(z.object({ why: z.string(), followUps: z.number() })),
  /** They want no such mail; they are never written to. */
  refused: z.number(),
  /** Without an address, or nobody is named. */
  unreachable: z.number(),
})
export type MessagesPreview = z.output<typeof messagesPreview>

/** What the booking form is filled with. */
export const bookingView = z.object({
  customerId: idSchema.nullable(),
  propertyId: idSchema,
  kind: z.string(),
  lengthMinutes: z.number(),
  reason: z.string(),
  requestId: idSchema.nullable(),
  /** Everything open at that home: one visit may serve all of it. */
  followUps: z.array(
    z.object({ id: idSchema, kindTitle: z.string(), subject: z.string(), dueOn: z.string() }),
  ),
})
export type BookingView = z.output<typeof bookingView>
