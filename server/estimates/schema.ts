import { z } from 'zod'
import { MOST_CENTS, MOST_THOUSANDTHS, PRICE_UNITS } from '../../trade/estimates/money.ts'
import { TOLD_WAYS } from '../../trade/estimates/statement.ts'
import { ESTIMATE_STATES } from '../../trade/estimates/states.ts'
import { FINDING_STATES } from '../../trade/inspection/finding-states.ts'
import { SEVERITIES } from '../../trade/verdict.ts'
import { dayOut, daySchema, instantOut, keysOf, textSchema } from '../fields.ts'
import { idSchema } from '../ids.ts'
import { pageOf, pageQuery } from '../paging.ts'
import { centsSchema, taxSchema } from '../prices/schema.ts'

// Routes, all for the office:
//   POST  /estimates               a draft, with lines proposed for findings
//   PATCH /estimates/:id           lines (all of them), note, expiry; of a draft also who pays
//   POST  /estimates/:id/send      to the customer, with a private page to accept or decline it on
//   POST  /estimates/:id/answer    what the customer said on the telephone or in person, in place of their page
//   POST  /estimates/:id/withdraw  no longer offered
//   POST  /estimates/:id/copy      { id }: the same as a new draft

const stateSchema = z.enum(keysOf(ESTIMATE_STATES), {
  error: `expected one of ${Object.keys(ESTIMATE_STATES).join(', ')}`,
})
const QUANTITY = `expected whole thousandths from 1 to ${MOST_THOUSANDTHS}; 2500 is two and a half`

export const lineBody = z.strictObject({
  /** Made by the caller. */
  id: idSchema,
  /** The finding that it corrects, where it corrects one. */
  findingId: idSchema.nullable().default(null),
  priceItemId: idSchema.nullable().default(null),
  /** Lines of one option are taken or left together; empty = always part. */
  option: textSchema(60).default(''),
  description: textSchema(500, 1),
  quantityThousandths: z
    .int({ error: QUANTITY })
    .min(1, { error: QUANTITY })
    .max(MOST_THOUSANDTHS, { error: QUANTITY })
    .default(1000),
  /** For one unit, without tax; below zero for a reduction. */
  priceCents: centsSchema(-MOST_CENTS),
  taxBasisPoints: taxSchema.default(0),
})
export type LineBody = z.output<typeof lineBody>

/** With neither findings nor an inspection named: for all that is open at the home. */
export const newEstimateBody = z.strictObject({
  id: idSchema.optional(),
  propertyId: idSchema,
  /** Left out: whoever pays for the home, else its contact. */
  customerId: idSchema.optional(),
  inspectionId: idSchema.optional(),
  findingIds: z.array(idSchema).max(100, { error: 'expected 100 findings or fewer' }).optional(),
})
export type NewEstimateBody = z.output<typeof newEstimateBody>

export const changeEstimateBody = z
  .strictObject({
    customerId: idSchema,
    /** In the order of the estimate; those that are left out go. */
    lines: z.array(lineBody).max(100, { error: 'expected 100 lines or fewer' }),
    /** For the customer, above the lines. */
    note: textSchema(2000),
    /** Last day on which it can be accepted; null = until it is withdrawn. */
    expiresOn: daySchema.nullable(),
  })
  .partial()
export type ChangeEstimateBody = z.output<typeof changeEstimateBody>

export const answerEstimateBody = z.strictObject({
  state: z.enum(['accepted', 'declined'], { error: 'expected accepted or declined' }),
  /** Options that they take; of one that is declined, none. */
  options: z.array(textSchema(60, 1)).max(100, { error: 'expected 100 options or fewer' }).default([]),
  /** Who said so. */
  name: textSchema(120, 1),
  how: z.enum(keysOf(TOLD_WAYS), { error: `expected ${Object.keys(TOLD_WAYS).join(' or ')}` }),
  /** Why they declined, as far as they said so. */
  reason: textSchema(300).default(''),
  /** They were told what stays unsafe, and what that means. */
  wasWarned: z.boolean().default(false),
})
export type AnswerEstimateBody = z.output<typeof answerEstimateBody>

export const copyEstimateBody = z.strictObject({ id: idSchema })

const filters = {
  state: stateSchema.optional(),
  q: textSchema(200).optional(),
  propertyId: idSchema.optional(),
  customerId: idSchema.optional(),
}
export const estimateListQuery = z.strictObject({ ...filters, ...pageQuery })
export type EstimateListQuery = z.output<typeof estimateListQuery>
export const estimateExportQuery = z.strictObject(filters)
export type EstimateFilters = z.output<typeof estimateExportQuery>

/** In a list, the latest first. */
export const estimateRow = z.object({
  id: idSchema,
  number: z.int(),
  state: stateSchema,
  propertyId: idSchema,
  line1: z.string(),
  city: z.string(),
  /** Of the home: the days below are its own. */
  timeZone: z.string(),
  customerId: idSchema,
  customerName: z.string(),
  customerPhone: z.string().nullable(),
  /** With tax: of what was taken once it is accepted, else of everything that is offered. */
  totalCents: z.int(),
  expiresOn: dayOut.nullable(),
  sentAt: instantOut.nullable(),
  decidedAt: instantOut.nullable(),
  createdAt: instantOut,
})
export type EstimateRow = z.output<typeof estimateRow>
export const estimatePage = pageOf(estimateRow)

export const lineView = z.object({
  id: idSchema,
  finding: z
    .object({
      id: idSchema,
      itemId: z.string(),
      text: z.string(),
      severity: z.enum(SEVERITIES),
      state: z.enum(keysOf(FINDING_STATES)),
    })
    .nullable(),
  priceItem: z.object({ id: idSchema, code: z.string(), unit: z.enum(keysOf(PRICE_UNITS)) }).nullable(),
  option: z.string(),
  description: z.string(),
  quantityThousandths: z.int(),
  priceCents: z.int(),
  taxBasisPoints: z.int(),
  decision: z.enum(['undecided', 'accepted', 'declined']),
})
export type LineView = z.output<typeof lineView>

/** What was signed on the page, or typed there; or said to the office, which wrote it down. */
export const signatureView = z.object({
  name: z.string(),
  /** Internet address that it came from. */
  address: z.string().nullable(),
  statement: z.string(),
  /** SHA-256 of the statement, hexadecimal. */
  statementHash: z.string(),
  /** Why it was declined, as far as they said so. */
  reason: z.string().optional(),
  told: z.object({ how: z.enum(keysOf(TOLD_WAYS)), to: z.string() }).optional(),
})
export type SignatureView = z.output<typeof signatureView>

export const estimateView = estimateRow.omit({ totalCents: true }).extend({
  line2: z.string(),
  postcode: z.string(),
  customerEmail: z.string().nullable(),
  note: z.string(),
  lines: z.array(lineView),
  signature: signatureView.nullable(),
  /** Accepted, and its request for the repair, which has the estimate's own id, still waits for a day. */
  repairWaits: z.boolean(),
  createdByName: z.string().nullable(),
  version: z.int(),
})
export type EstimateView = z.output<typeof estimateView>
