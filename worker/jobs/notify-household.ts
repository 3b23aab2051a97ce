import { z } from 'zod'
import { notify } from '../../server/follow-ups/notify.ts'
import { AT_ONCE } from '../../server/messages/relay.ts'
import type { Tools } from '../tools.ts'

const payloadSchema = z.object({ propertyId: z.uuid().optional() })

/** One home's household, or all that something has come due for. */
export async function notifyHouseholdJob({ ctx, queue }: Tools, payload: unknown): Promise<void> {
  const { messageIds } = await notify(ctx, payloadSchema.parse(payload))
  // More than a round of sending takes: the sweep rings for all of them in rounds.
  if (messageIds.length > AT_ONCE) await queue.enqueueMany('relay-messages', [{}])
  else
    await queue.enqueueMany(
      'send-message',
      messageIds.map((messageId) => ({ messageId })),
    )
}
