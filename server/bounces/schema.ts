import { z } from 'zod'
import { textSchema } from '../fields.ts'
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

/** Why an address is put aside: it came back, marked our mail as unwanted, or asked for none. */
export const putAside = z.object({ reason: z.enum(['bounced', 'complained', 'asked']), detail: z.string() })
export type PutAside = z.output<typeof putAside>

export const unreachable = z.object({
  /** The latest first; what no customer has any more comes last. */
  items: z.array(
    putAside.extend({
      email: z.string(),
      /** Null where no customer has the address any more. */
      customerId: idSchema.nullable(),
      name: z.string().nullable(),
      phone: z.string().nullable(),
      since: z.string(),
      /** Open follow-ups at the homes that they are contact of. */
      open: z.number(),
    }),
  ),
  /** Those beyond the items. */
  more: z.number(),
})
export type Unreachable = z.output<typeof unreachable>

export const liftBody = z.strictObject({
  email: textSchema(320, 1),
  why: textSchema(500)
    .default('')
    .describe('Who asked for it, and when; needed unless the address came back'),
})
export type LiftBody = z.output<typeof liftBody>
export const lifted = putAside.extend({ email: z.string() })
