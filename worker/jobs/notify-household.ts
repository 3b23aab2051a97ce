import { z } from 'zod'
import { notify } from '../../server/follow-ups/notify.ts'
import type { Tools } from '../tools.ts'

const payloadSchema = z.object({ propertyId: z.uuid().optional() })

/** One home's household, or all that something has come due for. */
export async function notifyHouseholdJob({ ctx, queue }: Tools, payload: unknown): Promise<void> {
  const { messageIds } = await notify(ctx, payloadSchema.parse(payload))
  await queue.enqueueMany(
    'send-message',
    messageIds.map((messageId) => ({ messageId })),
  )
}
