import type { Prisma } from '../generated/client.ts'
import type { Chance } from './chance.ts'
import type { DemoHome } from './homes.ts'
import { REQUEST_REASONS } from './words.ts'

/** People who called or wrote in the last days and wait for a day. */
export function demoRequests(
  chance: Chance,
  homes: readonly DemoHome[],
  payer: (home: DemoHome) => string,
  now: Date,
): Prisma.VisitRequestCreateManyInput[] {
  return homes.map((home, index) => {
    const createdAt = new Date(now.getTime() - (index * 17 + 2) * 3_600_000)
    const firstDay = new Date(
      Date.UTC(now.getUTCFullYear(), now.getUTCMonth(), now.getUTCDate() + chance.whole(2, 9)),
    )
    return {
      id: chance.id(createdAt),
      customerId: payer(home),
      propertyId: home.property.id,
      reason: REQUEST_REASONS[index % REQUEST_REASONS.length]!,
      kind: 'inspection',
      preferredDays: chance.percent(60) ? [firstDay, new Date(firstDay.getTime() + 86_400_000)] : [],
      preferredTime: chance.pick(['', 'mornings', 'after 3 PM']),
      source: chance.pick(['phone', 'phone', 'e-mail', 'private-link']),
      createdAt,
      updatedAt: createdAt,
    }
  })
}
