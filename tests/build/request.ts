import type { Ctx } from '../../server/ctx.ts'
import { createRequest } from '../../server/requests/service.ts'
import { buildProperty } from './property.ts'

/** A request that waits, at a home of its own unless one is named. */
export async function buildRequest(ctx: Ctx, more: Partial<Parameters<typeof createRequest>[2]> = {}) {
  const home = more.propertyId ? null : await buildProperty(ctx)
  return ctx.db.$transaction((tx) =>
    createRequest(ctx, tx, {
      propertyId: home?.id ?? '',
      customerId: home?.customerId ?? '',
      kind: 'inspection',
      reason: 'Lights flicker when the dryer runs.',
      preferredDays: [],
      preferredTime: '',
      note: '',
      source: 'phone',
      ...more,
    }),
  )
}
