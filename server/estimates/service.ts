import { z } from 'zod'
import { usualExpiry } from '../../trade/estimates/states.ts'
import { theUser } from '../accounts/service.ts'
import { audit } from '../audit/store.ts'
import type { Ctx } from '../ctx.ts'
import { everyPage } from '../csv.ts'
import { type Db, refusedBy } from '../db.ts'
import { invalid, Problem } from '../errors.ts'
import { newId } from '../ids.ts'
import { decodeCursor, type Page, toPage } from '../paging.ts'
import { findProperty } from '../properties/store.ts'
import { fromDay } from '../time.ts'
import { checkCustomer } from './checks.ts'
import * as findings from './findings-store.ts'
import * as lists from './list-store.ts'
import { proposeLines } from './proposal.ts'
import type {
  EstimateFilters,
  EstimateListQuery,
  EstimateRow,
  EstimateView,
  LineBody,
  NewEstimateBody,
} from './schema.ts'
import * as store from './store.ts'

const sortValues = ({ number }: EstimateRow): [number] => [number]

export async function listEstimates(
  ctx: Ctx,
  { cursor, limit, ...filters }: EstimateListQuery,
): Promise<Page<EstimateRow>> {
  const after = decodeCursor(cursor, z.tuple([z.int32()]))
  return toPage(await lists.listEstimates(ctx.db, filters, after, limit + 1), limit, sortValues)
}

/** The same list whole, page by page. */
export function everyEstimate(ctx: Ctx, filters: EstimateFilters): AsyncGenerator<EstimateRow[]> {
  return everyPage(
    (after: [number] | null, limit) => lists.listEstimates(ctx.db, filters, after, limit),
    sortValues,
  )
}

export function readEstimate(ctx: Ctx, id: string): Promise<EstimateView> {
  return store.getEstimate(ctx.db, id)
}

/** A draft with a line for each finding that it is for. The same id again is the same estimate, left as it is. */
export async function draftEstimate(ctx: Ctx, body: NewEstimateBody): Promise<EstimateView> {
  const id = body.id ?? newId()
  return once(ctx, id, async (tx) => {
    const property = await findProperty(tx, body.propertyId)
    if (!property) throw invalid({ pointer: '#/propertyId', detail: 'there is no such home' })
    if (property.archivedAt)
      throw new Problem('wrong-state', `${property.line1} is archived; restore it first.`)
    const customerId = body.customerId ?? (await payerOf(tx, property))
    if (body.customerId) await checkCustomer(tx, property.id, body.customerId)
    const offered = await findings.listOfferable(tx, property.id, body)
    checkAllFound(body.findingIds, offered)
    await insert(ctx, tx, 'estimate.draft', {
      id,
      propertyId: property.id,
      customerId,
      expiresOn: usualExpiry(ctx.today(property.timeZone)),
      lines: await proposeLines(tx, offered),
    })
  })
}

/** The same anew, with today's expiry; lines keep their findings as far as these may still be offered. */
export async function copyEstimate(ctx: Ctx, id: string, copyId: string): Promise<EstimateView> {
  const from = await store.getEstimate(ctx.db, id)
  return once(ctx, copyId, async (tx) => {
    const findingIds = from.lines.flatMap(({ finding }) => finding?.id ?? [])
    const offerable = await findings.listOfferable(tx, from.propertyId, { findingIds })
    const isOfferable = (findingId: string) => offerable.some((each) => each.id === findingId)
    const lines = from.lines.map(({ finding, priceItem, decision: _, ...line }) => ({
      ...line,
      id: newId(),
      findingId: finding && isOfferable(finding.id) ? finding.id : null,
      priceItemId: priceItem?.id ?? null,
    }))
    const { propertyId, customerId, note, timeZone } = from
    const expiresOn = usualExpiry(ctx.today(timeZone))
    await insert(ctx, tx, 'estimate.copy', { id: copyId, propertyId, customerId, note, expiresOn, lines })
  })
}

async function once(ctx: Ctx, id: string, write: (tx: Db) => Promise<void>): Promise<EstimateView> {
  const known = await store.findEstimate(ctx.db, id)
  if (known) return known
  try {
    return await ctx.db.$transaction(async (tx) => {
      await write(tx)
      return store.getEstimate(tx, id)
    })
  } catch (error) {
    // The same call twice at once: the other was first.
    const first = refusedBy(error, 'estimate_pkey') ? await store.findEstimate(ctx.db, id) : null
    if (first) return first
    throw error
  }
}

interface NewEstimate {
  id: string
  propertyId: string
  customerId: string
  note?: string
  expiresOn: ReturnType<typeof usualExpiry>
  lines: readonly LineBody[]
}

async function insert(
  ctx: Ctx,
  tx: Db,
  action: string,
  { lines, expiresOn, ...estimate }: NewEstimate,
): Promise<void> {
  const now = ctx.now()
  const stamps = { createdById: theUser(ctx).id, createdAt: now, updatedAt: now }
  await store.insertEstimate(tx, { ...estimate, expiresOn: fromDay(expiresOn), ...stamps }, lines)
  const after = await store.getEstimate(tx, estimate.id)
  await audit(ctx, tx, { action, subjectKind: 'estimate', subjectId: estimate.id, after })
}

function checkAllFound(named: readonly string[] | undefined, found: readonly { id: string }[]): void {
  const missing = named?.findIndex((id) => !found.some((each) => each.id === id)) ?? -1
  if (missing < 0) return
  throw invalid({
    pointer: `#/findingIds/${missing}`,
    detail: 'there is no such finding at this home that could still be offered',
  })
}

async function payerOf(tx: Db, { id, line1 }: { id: string; line1: string }): Promise<string> {
  const payer = await store.findPayer(tx, id)
  if (payer) return payer
  throw new Problem('wrong-state', `Nobody is on record for ${line1}; name whoever pays there first.`)
}
