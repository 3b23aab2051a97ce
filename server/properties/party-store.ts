import type { Day } from '../../trade/dates.ts'
import type { Db } from '../db.ts'
import { fromDay } from '../time.ts'
import type { NewParty } from './party-schema.ts'

/** Who has to do with the home today. */
export async function listParties(db: Db, propertyId: string): Promise<NewParty[]> {
  const rows = await db.propertyParty.findMany({
    where: { propertyId, until: null },
    orderBy: [{ role: 'asc' }, { customerId: 'asc' }],
  })
  return rows.map(({ customerId, role, isContact }) => ({
    customerId,
    role: role as NewParty['role'],
    isContact,
  }))
}

/** Adds one, or brings back one who had to do with the home before. */
export async function upsertParty(db: Db, propertyId: string, party: NewParty, today: Day): Promise<void> {
  const { customerId, role, isContact } = party
  await db.propertyParty.upsert({
    where: { propertyId_customerId_role: { propertyId, customerId, role } },
    create: { propertyId, customerId, role, isContact, since: fromDay(today) },
    update: { isContact, until: null },
  })
}

/** Nobody is written to about this home until a new contact is named. */
export async function clearContact(db: Db, propertyId: string): Promise<void> {
  await db.propertyParty.updateMany({ where: { propertyId, until: null }, data: { isContact: false } })
}

export async function endParty(db: Db, propertyId: string, party: NewParty, today: Day): Promise<void> {
  await db.propertyParty.updateMany({
    where: { propertyId, customerId: party.customerId, role: party.role, until: null },
    data: { until: fromDay(today), isContact: false },
  })
}

/** Of those ids, the ones that no customer has. */
export async function unknownCustomers(db: Db, ids: readonly string[]): Promise<string[]> {
  const known = await db.customer.findMany({ where: { id: { in: [...ids] } }, select: { id: true } })
  return ids.filter((id) => !known.some((each) => each.id === id))
}

/**
 * What was meant for somebody who no longer has to do with the home: reminders not yet sent are cancelled, and links
 * to its pages end. Papers that were theirs (report, estimate) stay readable.
 */
export async function endContactWith(db: Db, propertyId: string, customerIds: readonly string[], now: Date) {
  if (customerIds.length === 0) return
  const of = { propertyId, customerId: { in: [...customerIds] } }
  await db.message.updateMany({
    where: { ...of, state: 'planned', category: { in: ['reminder', 'tips'] } },
    data: { state: 'cancelled', lastError: 'No longer has to do with this home.', updatedAt: now },
  })
  await db.privateLink.updateMany({
    where: { ...of, purpose: { in: ['due', 'visit'] }, revokedAt: null },
    data: { revokedAt: now },
  })
}
