import { z } from 'zod'
import type { Day } from '../../trade/dates.ts'
import { audit } from '../audit/store.ts'
import type { Ctx } from '../ctx.ts'
import { createCustomer } from '../customers/service.ts'
import { getCustomer } from '../customers/store.ts'
import { type Db, refusedBy } from '../db.ts'
import { invalid, Problem } from '../errors.ts'
import { planFollowUps } from '../follow-ups/service.ts'
import { idSchema, newId } from '../ids.ts'
import { decodeCursor, type Page, toPage } from '../paging.ts'
import { createEquipment } from '../properties/equipment-service.ts'
import { addParties, joinParty } from '../properties/party-service.ts'
import { createProperty } from '../properties/service.ts'
import { findProperty } from '../properties/store.ts'
import { fromDay } from '../time.ts'
import { changedMeanwhile } from '../versions.ts'
import type { ChangeRequestBody, RequestListQuery, RequestView, TakeRequestBody } from './schema.ts'
import * as store from './store.ts'

export async function listRequests(
  ctx: Ctx,
  { cursor, limit, ...filters }: RequestListQuery,
): Promise<Page<RequestView>> {
  const after = decodeCursor(cursor, z.tuple([z.iso.datetime(), idSchema]))
  const rows = await store.listRequests(ctx.db, filters, after, limit + 1)
  if (rows.length > 0 || !filters.q || after) return toPage(rows, limit, (last) => [last.createdAt, last.id])
  return { items: await store.listResembling(ctx.db, { ...filters, q: filters.q }, limit), next: null }
}

export function readRequest(ctx: Ctx, id: string): Promise<RequestView> {
  return store.getRequest(ctx.db, id)
}

/**
 * One telephone call: who asks, which home, what is known of it, when they can. All of it is kept or none. The same id
 * again is the same request, left as it is.
 */
export async function takeRequest(ctx: Ctx, body: TakeRequestBody): Promise<RequestView> {
  const id = body.id ?? newId()
  try {
    return await ctx.db.$transaction(async (tx) => {
      const known = await store.findRequest(tx, id)
      return known ?? (await take(ctx, tx, id, body))
    })
  } catch (error) {
    // The same call twice at once: the other was first.
    const known = refusedBy(error, 'visit_request_pkey') ? await store.findRequest(ctx.db, id) : null
    if (known) return known
    throw error
  }
}

async function take(ctx: Ctx, tx: Db, id: string, body: TakeRequestBody): Promise<RequestView> {
  const customer = body.customer
    ? await createCustomer(ctx, tx, body.customer)
    : await knownCustomer(tx, body.customerId!)
  const property = await homeOf(ctx, tx, body, customer.id)
  for (const equipment of body.equipment) await createEquipment(ctx, tx, property.id, equipment)
  const request = await createRequest(ctx, tx, {
    id,
    customerId: customer.id,
    propertyId: property.id,
    kind: body.kind,
    reason: body.reason,
    preferredDays: body.preferredDays,
    preferredTime: body.preferredTime,
    note: body.note,
    source: body.source,
  })
  await planFollowUps(ctx, tx, property.id)
  return request
}

type NewRequest = Pick<
  RequestView,
  'customerId' | 'propertyId' | 'kind' | 'reason' | 'preferredTime' | 'note' | 'source'
> & { id?: string; preferredDays: readonly string[] }

/** Somebody wants us to come, in the caller's transaction: the phone, or a homeowner's page. */
export async function createRequest(ctx: Ctx, tx: Db, input: NewRequest): Promise<RequestView> {
  const id = input.id ?? newId()
  const now = ctx.now()
  const preferredDays = [...new Set(input.preferredDays)].sort().map((each) => fromDay(each as Day))
  await store.insertRequest(tx, {
    ...input,
    id,
    preferredDays,
    state: 'waiting',
    createdAt: now,
    updatedAt: now,
  })
  const request = await store.getRequest(tx, id)
  await audit(ctx, tx, { action: 'request.take', subjectKind: 'request', subjectId: id, after: request })
  return request
}

async function knownCustomer(tx: Db, id: string) {
  const customer = await getCustomer(tx, id).catch(() => {
    throw invalid({ pointer: '#/customerId', detail: 'there is no such customer' })
  })
  if (customer.archivedAt)
    throw new Problem('wrong-state', `${customer.name} is archived; restore them first.`)
  return customer
}

async function homeOf(ctx: Ctx, tx: Db, body: TakeRequestBody, customerId: string) {
  const party = { customerId, role: body.role }
  if (body.property) {
    const { property, isNew } = await createProperty(ctx, tx, body.property)
    if (isNew) await addParties(ctx, tx, property, [{ ...party, isContact: true }])
    else await joinParty(ctx, tx, property, party)
    return property
  }
  const property = await findProperty(tx, body.propertyId!)
  if (!property) throw invalid({ pointer: '#/propertyId', detail: 'there is no such home' })
  if (property.archivedAt)
    throw new Problem('wrong-state', `${property.line1} is archived; restore it first.`)
  await joinParty(ctx, tx, property, party)
  return property
}

export async function changeRequest(
  ctx: Ctx,
  id: string,
  seen: number,
  { preferredDays, ...change }: ChangeRequestBody,
): Promise<RequestView> {
  return update(ctx, id, seen, 'request.change', {
    ...change,
    ...(preferredDays && { preferredDays: [...new Set(preferredDays)].sort().map((each) => fromDay(each)) }),
  })
}

/** They changed their mind, or went elsewhere. */
export function withdrawRequest(ctx: Ctx, id: string, seen: number, reason: string): Promise<RequestView> {
  return update(ctx, id, seen, 'request.withdraw', { state: 'withdrawn', closedReason: reason })
}

function update(
  ctx: Ctx,
  id: string,
  seen: number,
  action: string,
  change: Parameters<typeof store.updateRequest>[3],
): Promise<RequestView> {
  return ctx.db.$transaction(async (tx) => {
    const before = await store.getRequest(tx, id)
    if (before.version !== seen) throw changedMeanwhile(seen, before)
    if (before.state === 'booked') {
      throw new Problem('wrong-state', 'A visit is booked for it; move or cancel that visit instead.')
    }
    if (before.state === 'withdrawn')
      throw new Problem('wrong-state', 'It was withdrawn; take a new request.')
    const stored = await store.updateRequest(tx, id, seen, { ...change, updatedAt: ctx.now() })
    const after = await store.getRequest(tx, id)
    if (!stored) throw changedMeanwhile(seen, after)
    await audit(ctx, tx, { action, subjectKind: 'request', subjectId: id, before, after })
    await planFollowUps(ctx, tx, after.propertyId)
    return after
  })
}
