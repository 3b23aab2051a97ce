import type { Ctx } from '../../server/ctx.ts'
import { newPriceBody } from '../../server/prices/schema.ts'
import { addPrice } from '../../server/prices/service.ts'

let count = 0

/** A price of $145.00 without tax, through the door's own schema; each has a code of its own. */
export function buildPrice(ctx: Ctx, more: Record<string, unknown> = {}) {
  const code = `P-${String(++count).padStart(3, '0')}`
  return addPrice(ctx, newPriceBody.parse({ code, name: `Price ${code}`, priceCents: 14_500, ...more }))
}
