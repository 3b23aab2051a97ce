import { isOffice } from '../../trade/permissions.ts'
import { theUser } from '../accounts/service.ts'
import type { Ctx } from '../ctx.ts'
import { seenSince } from '../properties/scope.ts'
import type { SearchQuery, SearchView } from './schema.ts'
import * as store from './store.ts'

/** Customers, homes and visits by whatever was typed. What only resembles it is shown when nothing contains it. */
export async function search(ctx: Ctx, { q, limit }: SearchQuery): Promise<SearchView> {
  const user = theUser(ctx)
  const scope = isOffice(user) ? null : { technicianId: user.id, since: seenSince(ctx.now()) }
  const found = await find(ctx, { q, limit, scope, forgiving: false })
  const isNothing = found.customers.length + found.properties.length + found.visits.length === 0
  const best = isNothing ? await find(ctx, { q, limit, scope, forgiving: true }) : found
  // A technician knows people by the homes that they go to; the customer base is the office's.
  return scope ? { ...best, customers: [] } : best
}

async function find(ctx: Ctx, asked: store.Search): Promise<SearchView> {
  const [customers, properties] = await Promise.all([
    store.findCustomers(ctx.db, asked),
    store.findProperties(ctx.db, asked),
  ])
  const ids = (rows: readonly { id: string }[]) => rows.map((row) => row.id)
  const of = { customerIds: ids(customers), propertyIds: ids(properties) }
  return { customers, properties, visits: await store.findVisits(ctx.db, asked, of, ctx.now()) }
}
