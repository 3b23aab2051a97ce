import { relayMessages } from '../../server/messages/relay.ts'
import type { Tools } from '../tools.ts'

export async function relayMessagesJob({ ctx, queue }: Tools): Promise<void> {
  await relayMessages(ctx, queue)
}
