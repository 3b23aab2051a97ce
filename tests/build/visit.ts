import type { Ctx } from '../../server/ctx.ts'
import { newId } from '../../server/ids.ts'
import { bookVisit } from '../../server/visits/booking.ts'
import { bookVisitBody } from '../../server/visits/schema.ts'
import { buildProperty } from './property.ts'

/** A technician without a session: for visits that somebody must make. */
export async function buildTechnician(ctx: Ctx, name = 'Bo Lind') {
  const id = newId()
  await ctx.db.user.create({ data: { id, email: `${id}@example.com`, name, role: 'technician' } })
  return { id, name }
}

/** A booked visit of an hour, 09:00 to 11:00 tomorrow unless said otherwise, at a home and by a technician of its own. */
export async function buildVisit(ctx: Ctx, more: Record<string, unknown> = {}) {
  const home = more['propertyId'] || more['requestId'] ? null : await buildProperty(ctx)
  const technicianId = more['technicianId'] ?? (await buildTechnician(ctx)).id
  return bookVisit(
    ctx,
    bookVisitBody.parse({
      ...(home && { propertyId: home.id, customerId: home.customerId }),
      day: '2026-06-02',
      windowStart: '09:00',
      windowEnd: '11:00',
      lengthMinutes: 60,
      ...more,
      technicianId,
    }),
  )
}
