import type { Ctx } from '../../server/ctx.ts'
import { createCustomer } from '../../server/customers/service.ts'
import { newCustomerBody } from '../../server/customers/schema.ts'

let count = 0

/** A customer through the door's own schema; each has a name, e-mail and phone of their own. */
export function buildCustomer(ctx: Ctx, more: Record<string, unknown> = {}) {
  const number = ++count
  const body = newCustomerBody.parse({
    name: `Customer ${number}`,
    email: `customer-${number}@example.com`,
    phone: `555-01${String(number).padStart(2, '0')}`,
    ...more,
  })
  return ctx.db.$transaction((tx) => createCustomer(ctx, tx, body))
}
