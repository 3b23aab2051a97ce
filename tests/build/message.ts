import type { Ctx } from '../../server/ctx.ts'
import { planMessage } from '../../server/messages/service.ts'
import { visitCalendar } from '../../server/visits/calendar.ts'
import { buildHousehold, buildVisit, type Household } from './follow-up.ts'

/** A booked visit with its confirmation waiting to be sent, as booking writes it. */
export async function buildConfirmation(
  ctx: Ctx,
  more: Parameters<typeof buildHousehold>[1] & { sequence?: number } = {},
): Promise<Household & { visitId: string; messageId: string }> {
  const home = await buildHousehold(ctx, more)
  const startsAt = new Date('2026-06-04T13:00:00Z')
  const sequence = more.sequence ?? 0
  const visitId = await buildVisit(ctx, home, startsAt, { sequence })
  const windowEndsAt = new Date(startsAt.getTime() + 2 * 3_600_000)
  const calendar = visitCalendar({
    id: visitId,
    sequence,
    isCancelled: false,
    windowStartsAt: startsAt,
    windowEndsAt,
    timeZone: home.zone,
    summary: 'Inspection: Kestrel Row Electric',
    description: 'Our technician arrives between these times.',
    address: '14 Quay Lane, Port Ansel',
    company: { name: 'Kestrel Row Electric', email: 'office@example.com' },
    customer: { name: 'Robin Vale', email: `home-${home.customerId}@example.com` },
    host: 'localhost',
    at: ctx.now(),
  })
  const messageId = await ctx.db.$transaction((tx) =>
    planMessage(ctx, tx, {
      kind: 'visit-booked',
      category: 'booking',
      customerId: home.customerId,
      propertyId: home.propertyId,
      visitId,
      dedupeKey: `visit-booked-${visitId}-${sequence}`,
      context: {
        sequence,
        windowStartsAt: startsAt.toISOString(),
        windowEndsAt: windowEndsAt.toISOString(),
        technicianName: 'Jo Marsh',
        address: '14 Quay Lane, Port Ansel',
        calendar: calendar.text,
        calendarMethod: calendar.method,
      },
      reason: 'A visit was booked.',
    }),
  )
  return { ...home, visitId, messageId: messageId! }
}
