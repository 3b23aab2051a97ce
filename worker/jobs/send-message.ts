import { z } from 'zod'
import { AT_ONCE } from '../../server/messages/relay.ts'
import { type Outcome, sendMessage, sendMessages } from '../../server/messages/sending.ts'
import { messagesFailed, messagesSent } from '../../server/metrics.ts'
import type { Tools } from '../tools.ts'

const payloadSchema = z.object({ messageId: z.uuid() })

/** One message that somebody waits for. */
export async function sendMessageJob({ ctx, mailer }: Tools, payload: unknown): Promise<void> {
  const { messageId } = payloadSchema.parse(payload)
  count([await sendMessage(ctx, mailer, messageId)])
}

/** A round of what waits. The rows say which; the payload only tells rounds apart. */
export async function sendWaitingJob({ ctx, mailer }: Tools): Promise<void> {
  const outcomes = await sendMessages(ctx, mailer, { most: AT_ONCE })
  count(outcomes.values())
}

function count(outcomes: Iterable<Outcome>): void {
  for (const outcome of outcomes) {
    if (outcome === 'sent') messagesSent.inc()
    if (outcome === 'later' || outcome === 'failed' || outcome === 'bounced') messagesFailed.inc()
  }
}
