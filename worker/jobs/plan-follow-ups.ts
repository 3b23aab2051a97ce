import { z } from 'zod'
import { planEverything, planFollowUps } from '../../server/follow-ups/service.ts'
import type { Tools } from '../tools.ts'

const payloadSchema = z.object({ propertyId: z.uuid().optional() })

export async function planFollowUpsJob({ ctx }: Tools, payload: unknown): Promise<void> {
  const { propertyId } = payloadSchema.parse(payload)
  if (propertyId) await ctx.db.$transaction((tx) => planFollowUps(ctx, tx, propertyId))
  else await planEverything(ctx)
}
