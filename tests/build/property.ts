import type { Ctx } from '../../server/ctx.ts'
import { addProperty } from '../../server/properties/service.ts'
import { newPropertyBody } from '../../server/properties/schema.ts'
import { createEquipment } from '../../server/properties/equipment-service.ts'
import { newEquipmentBody } from '../../server/properties/equipment-schema.ts'
import { buildCustomer } from './customer.ts'

let count = 0

/** A home with an owner who is its contact. Parties of one's own: `{ parties: [...] }`. */
export async function buildProperty(ctx: Ctx, more: Record<string, unknown> = {}) {
  const number = ++count
  const owner = more['parties'] ? null : await buildCustomer(ctx)
  const body = newPropertyBody.parse({
    line1: `${number} Quay Lane`,
    city: 'Port Ansel',
    postcode: '00501',
    ...(owner && { parties: [{ customerId: owner.id, role: 'owner', isContact: true }] }),
    ...more,
  })
  const property = await addProperty(ctx, body)
  return { ...property, customerId: owner?.id ?? body.parties[0]?.customerId ?? '' }
}

export function buildEquipment(ctx: Ctx, propertyId: string, more: Record<string, unknown> = {}) {
  const body = newEquipmentBody.parse({ kind: 'alarm', details: { senses: 'smoke' }, ...more })
  return ctx.db.$transaction((tx) => createEquipment(ctx, tx, propertyId, body))
}
