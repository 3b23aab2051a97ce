import { z } from 'zod'
import { idSchema } from '../ids.ts'

export const deviceParams = z.strictObject({ id: idSchema, sessionId: idSchema })

/** A browser in which somebody is logged in, or was until it was removed. */
export const deviceView = z.object({
  sessionId: idSchema,
  userAgent: z.string(),
  ip: z.string(),
  lastSeenAt: z.string(),
  /** Whoever asks is on it. */
  current: z.boolean(),
  /** removing: it is told at its next contact. removed: it said that it has deleted what it held. */
  state: z.enum(['in-use', 'removing', 'removed']),
  removedAt: z.string().nullable(),
  /** What the office never got from it; null until it has said so. */
  unsent: z.object({ changes: z.number(), photos: z.number() }).nullable(),
})
export type DeviceView = z.output<typeof deviceView>
