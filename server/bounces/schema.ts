import { z } from 'zod'
import { idSchema } from '../ids.ts'

export const reportBody = z.strictObject({
  kind: z.enum(['failed', 'delayed', 'complained']),
  /** Of the letter, as its Message-ID header says; the angle brackets may be left out. */
  messageId: z
    .string()
    .trim()
    .min(3)
    .max(300)
    .transform((id) => `<${id.replace(/^<|>$/g, '')}>`),
  recipient: z.string().trim().max(320).nullable().default(null),
  /** RFC 3463, such as 5.1.1. */
  status: z
    .string()
    .regex(/^[245]\.\d{1,3}\.\d{1,3}$/)
    .nullable()
    .default(null),
  detail: z.string().trim().max(1000).default(''),
})

export const unreachable = z.array(
  z.object({
    customerId: idSchema,
    name: z.string(),
    email: z.string(),
    phone: z.string().nullable(),
    reason: z.string(),
    detail: z.string(),
    since: z.string(),
    open: z.number(),
  }),
)
export type Unreachable = z.output<typeof unreachable>[number]
