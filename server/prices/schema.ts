import { z } from 'zod'
import { findItem } from '../../trade/checklist/checklist.ts'
import { MOST_BASIS_POINTS, MOST_CENTS, moneyInWords, PRICE_UNITS } from '../../trade/estimates/money.ts'
import { instantOut, keysOf, textSchema, yesNoQuery } from '../fields.ts'
import { idSchema } from '../ids.ts'
import { pageOf, pageQuery } from '../paging.ts'

// Routes, read by the office, written by admins:
//   GET   /prices               the price list by code; `retired=yes` for what is no longer offered
//   POST  /prices               a new price, its id made by the caller
//   PATCH /prices/:id           changes some of it; estimates that were written before keep theirs
//   POST  /prices/:id/retire    no longer offered; POST /prices/:id/restore takes it back

const unitSchema = z.enum(keysOf(PRICE_UNITS), {
  error: `expected one of ${Object.keys(PRICE_UNITS).join(', ')}`,
})

/** Whole cents. @param least below zero where a reduction may stand */
export const centsSchema = (least: number) => {
  const error = `expected whole cents from ${least} to ${MOST_CENTS} (${moneyInWords(MOST_CENTS)})`
  return z.int({ error }).min(least, { error }).max(MOST_CENTS, { error })
}

const POINTS = `expected basis points from 0 to ${MOST_BASIS_POINTS}; 825 is 8.25 %`
export const taxSchema = z
  .int({ error: POINTS })
  .min(0, { error: POINTS })
  .max(MOST_BASIS_POINTS, { error: POINTS })

const itemSchema = textSchema(120, 1).refine((id) => findItem(id) !== null, {
  error: 'the checklist has no such item',
})

const fields = {
  code: textSchema(40, 1),
  name: textSchema(200, 1),
  description: textSchema(1000),
  unit: unitSchema,
  priceCents: centsSchema(0),
  taxBasisPoints: taxSchema,
  /** Checklist items whose findings it usually corrects: an estimate proposes it for them. */
  correctsItems: z.array(itemSchema).max(50, { error: 'expected 50 items or fewer' }),
}

export const newPriceBody = z.strictObject({
  id: idSchema.optional(),
  ...fields,
  description: fields.description.default(''),
  unit: fields.unit.default('each'),
  taxBasisPoints: fields.taxBasisPoints.default(0),
  correctsItems: fields.correctsItems.default([]),
})
export type NewPriceBody = z.output<typeof newPriceBody>

export const changePriceBody = z.strictObject(fields).partial()
export type ChangePriceBody = z.output<typeof changePriceBody>

const filters = {
  q: textSchema(200).optional(),
  /** `yes`: only what is no longer offered; left out: only what is. */
  retired: yesNoQuery.default(false),
}
export const priceListQuery = z.strictObject({ ...filters, ...pageQuery })
export type PriceListQuery = z.output<typeof priceListQuery>
export const priceExportQuery = z.strictObject(filters)
export type PriceFilters = z.output<typeof priceExportQuery>

export const priceView = z.object({
  id: idSchema,
  code: z.string(),
  name: z.string(),
  description: z.string(),
  unit: z.enum(keysOf(PRICE_UNITS)),
  /** For one unit, without tax. */
  priceCents: z.int(),
  taxBasisPoints: z.int(),
  correctsItems: z.array(z.string()),
  retiredAt: instantOut.nullable(),
  version: z.int(),
})
export type PriceView = z.output<typeof priceView>
export const pricePage = pageOf(priceView)
