import { z } from 'zod'
import { wipedSession } from '../accounts/service.ts'
import { markWiped } from '../accounts/store.ts'
import { audit } from '../audit/store.ts'
import type { Ctx } from '../ctx.ts'
import { Problem } from '../errors.ts'
import { idSchema } from '../ids.ts'

const count = z.number().int().min(0).max(1_000_000)

/** What a device had not sent when it was told to delete everything. */
export const wipedBody = z.strictObject({
  deviceId: idSchema,
  operations: count,
  photos: count,
  steps: count,
})

/**
 * A device whose session was ended says that it holds nothing any more, and how much the office never got: the trace
 * that is left of it. Said again, it is written down once.
 */
export async function recordWiped(
  ctx: Ctx,
  cookies: Readonly<Record<string, string | undefined>>,
  unsent: z.output<typeof wipedBody>,
): Promise<void> {
  const session = await wipedSession(ctx, cookies)
  if (!session) throw new Problem('not-logged-in', 'This is for devices whose session the office ended.')
  await ctx.db.$transaction(async (tx) => {
    if (!(await markWiped(tx, session.id, ctx.now()))) return
    await audit(ctx, tx, {
      action: 'device.wipe',
      subjectKind: 'user',
      subjectId: session.userId,
      after: { ...unsent, sessionId: session.id },
    })
  })
}
