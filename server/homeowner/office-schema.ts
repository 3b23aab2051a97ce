import { z } from 'zod'
import { instantOut, yesNoQuery } from '../fields.ts'
import { idSchema } from '../ids.ts'
import { pageOf, pageQuery } from '../paging.ts'

// Routes, all for the office:
//   GET  /homeowner-answers            what people said on their pages; those that nobody looked at, or all
//   POST /homeowner-answers/:id/check  somebody in the office has looked at it

export const answerListQuery = z.strictObject({
  ...pageQuery,
  /** `no`: still to be looked at, the earliest first. */
  checked: yesNoQuery.default(false),
  propertyId: idSchema.optional(),
})
export type AnswerListQuery = z.output<typeof answerListQuery>

export const officeAnswer = z.object({
  id: idSchema,
  at: instantOut,
  act: z.string(),
  /** In a sentence: `“Hall alarm” was replaced on 2026-05-30 by one made on 2026-01-15.` */
  words: z.string(),
  /** What the office is to do about it, if anything. */
  todo: z.string().nullable(),
  customerId: idSchema,
  customerName: z.string(),
  customerPhone: z.string().nullable(),
  propertyId: idSchema,
  line1: z.string(),
  city: z.string(),
  followUpId: idSchema.nullable(),
  takenBackAt: instantOut.nullable(),
  checkedAt: instantOut.nullable(),
  checkedBy: z.string().nullable(),
})
export type OfficeAnswer = z.output<typeof officeAnswer>
export const answerPage = pageOf(officeAnswer)
