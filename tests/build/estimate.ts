import type { Ctx } from '../../server/ctx.ts'
import { changeEstimate, sendEstimate } from '../../server/estimates/changing.ts'
import { changeEstimateBody, type EstimateView, newEstimateBody } from '../../server/estimates/schema.ts'
import { draftEstimate } from '../../server/estimates/service.ts'
import { newId } from '../../server/ids.ts'

/** Somebody of the office, for what has to be done by a person. */
export async function officeOf(ctx: Ctx): Promise<Ctx> {
  const id = newId()
  const actor = { kind: 'user', id, role: 'office', name: 'Alex Reed', sessionId: null } as const
  await ctx.db.user.create({ data: { id, email: `${id}@example.com`, name: actor.name, role: 'office' } })
  return { ...ctx, actor }
}

/** A line of $100.00 without tax. */
export const line = (more: Record<string, unknown> = {}) => ({
  id: newId(),
  description: 'Work at the panel',
  priceCents: 10_000,
  ...more,
})

/** A draft with those lines; without any, with what is proposed for what is open at the home. */
export async function buildEstimate(
  office: Ctx,
  propertyId: string,
  { lines, ...change }: Record<string, unknown> = {},
): Promise<EstimateView> {
  const draft = await draftEstimate(office, newEstimateBody.parse({ propertyId }))
  if (!lines && Object.keys(change).length === 0) return draft
  const body = changeEstimateBody.parse({ ...change, ...(lines ? { lines } : {}) })
  return changeEstimate(office, draft.id, draft.version, body)
}

export async function buildSent(
  office: Ctx,
  propertyId: string,
  change: Record<string, unknown> = {},
): Promise<EstimateView> {
  const { id, version } = await buildEstimate(office, propertyId, change)
  return sendEstimate(office, id, version)
}
