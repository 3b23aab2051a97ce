import { z } from 'zod'
import { sendMessage } from '../../server/messages/sending.ts'
import { messagesFailed, messagesSent } from '../../server/metrics.ts'
import type { Tools } from '../tools.ts'

const payloadSchema = z.object({ messageId: z.uuid() })

export async function sendMessageJob({ ctx, mailer }: Tools, payload: unknown): Promise<void> {
  const { messageId } = payloadSchema.parse(payload)
  const outcome = await sendMessage(ctx, mailer, messageId)
  if (outcome === 'sent') messagesSent.inc()
  if (outcome === 'later' || outcome === 'failed' || outcome === 'bounced') messagesFailed.inc()
}
