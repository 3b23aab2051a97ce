import { z } from 'zod'
import { FOLLOW_UP_KIND_IDS } from '../../trade/follow-ups/kind.ts'
import { SEVERITIES } from '../../trade/verdict.ts'

// Routes, for the admin; reading also for the office:
//   GET  /follow-up-policy           the company's own choices over the defaults, and who changed them when
//   POST /follow-up-policy/preview   what a change would move and send, before it is saved
//   PUT  /follow-up-policy           saves it; many messages at once need their number said back

const whole = (least: number, most: number, unit: string) =>
  z.number().int().min(least).max(most).describe(`${unit}, ${least} to ${most}`)
const timeSchema = z.string().regex(/^([01]\d|2[0-3]):[0-5]\d$/, 'expected a time of day such as 08:00')

const stepSchema = z.strictObject({
  days: whole(-400, 400, 'days before (negative) or after the due date'),
  by: z
    .array(z.enum(['mail', 'call', 'letter']))
    .min(1)
    .max(3),
})
const cadenceSchema = z
  .strictObject({
    steps: z.array(stepSchema).min(1).max(12),
    then: z
      .strictObject({
        every: whole(1, 120, 'how often'),
        unit: z.enum(['days', 'months']),
        by: z
          .array(z.enum(['mail', 'call', 'letter']))
          .min(1)
          .max(3),
      })
      .optional(),
  })
  .refine(({ steps }) => new Set(steps.map(({ days }) => days)).size === steps.length, {
    error: 'two notices on the same day; keep one',
  })
  .refine(({ then }) => !(then && then.unit === 'days' && then.every < 7 && then.by.includes('mail')), {
    error: 'mail that repeats needs a week between at least',
  })

const cadenceIds = [
  ...FOLLOW_UP_KIND_IDS,
  ...SEVERITIES.map((severity) => `open-finding/${severity}` as const),
]

/** What the admin may change. What is left out keeps its default. */
export const policyChanges = z
  .strictObject({
    cadences: z.partialRecord(z.enum(cadenceIds), cadenceSchema),
    cap: z.strictObject({ messages: whole(1, 10, 'messages'), days: whole(1, 90, 'days') }).partial(),
    sendingHours: z.strictObject({ from: timeSchema, to: timeSchema }),
    groupWithinDays: whole(0, 60, 'days'),
    reinspection: z
      .strictObject({
        ownerYears: whole(1, 40, 'years'),
        rentedYears: whole(1, 40, 'years'),
        olderHomeYears: whole(1, 40, 'years'),
        olderHomeAge: whole(10, 150, 'years'),
      })
      .partial(),
    surge: z
      .strictObject({
        checkMonths: whole(1, 60, 'months'),
        afterEventDays: whole(0, 60, 'days'),
        lifeYears: whole(1, 30, 'years'),
      })
      .partial(),
    batteryMonths: whole(1, 60, 'months'),
    finding: z
      .strictObject({
        repairDays: whole(1, 365, 'days'),
        investigateDays: whole(1, 365, 'days'),
        improveMonths: whole(1, 60, 'months'),
        refusedRecheckDays: whole(1, 365, 'days'),
        countFoundDay: z.boolean(),
      })
      .partial(),
    makeSafeDays: whole(0, 14, 'days'),
    estimateDays: whole(1, 90, 'days'),
    noAccessDays: whole(0, 30, 'days'),
    tipsMonths: whole(1, 24, 'months'),
  })
  .partial()
  .refine(({ sendingHours }) => !sendingHours || sendingHours.from < sendingHours.to, {
    path: ['sendingHours', 'to'],
    error: 'has to be later than “from”: messages go out by day',
  })
export type PolicyChangesBody = z.output<typeof policyChanges>

export const previewBody = z.strictObject({ changes: policyChanges })
export const changePolicyBody = z.strictObject({
  changes: policyChanges,
  /** The number of messages that the preview said would go out at once, said back. */
  confirmMessages: z.number().int().min(0).max(100_000_000).optional(),
})

const record = z.record(z.string(), z.unknown())
export const policyView = z.object({
  version: z.number(),
  /** In full, as it holds. */
  policy: record,
  /** The company's own choices. */
  changes: record,
  defaults: record,
  kinds: z.array(
    z.object({
      id: z.string(),
      title: z.string(),
      concerns: z.string(),
      isCommercial: z.boolean(),
      cadence: record,
    }),
  ),
  history: z.array(
    z.object({ at: z.string(), by: z.string().nullable(), before: z.unknown(), after: z.unknown() }),
  ),
})
export type PolicyView = z.output<typeof policyView>

const beforeAndAfter = z.object({ before: z.number(), after: z.number() })
const busyDay = z.object({ on: z.string(), messages: z.number() })
export const previewView = z.object({
  /** Open follow-ups that would get another due date. */
  moved: z.number(),
  opened: z.number(),
  ended: z.number(),
  /** Messages that the next round would write. */
  atOnce: beforeAndAfter,
  /** Messages from today to the end of the month. */
  thisMonth: beforeAndAfter,
  /** Kinds that speak in the next round, most first. */
  atOnceByKind: z.array(z.object({ kind: z.string(), title: z.string(), followUps: z.number() })),
  /** Two years of a made-up company of as many homes, as `npm run simulate` counts them. */
  simulated: z.object({
    /** `YYYY-MM`, in order. */
    months: z.array(beforeAndAfter.extend({ month: z.string() })),
    busiestDay: z.object({ before: busyDay, after: busyDay }),
    /** Letters that offer work or tell a tip, to the household that gets most of them. */
    householdIn7Days: beforeAndAfter,
    householdInAYear: beforeAndAfter,
    /** What must be nought, and how often it was not. */
    promises: z.array(beforeAndAfter.extend({ promise: z.string() })),
  }),
  /** Saving needs this number said back; null = nothing out of the ordinary. */
  confirm: z.number().nullable(),
})
export type PreviewView = z.output<typeof previewView>
