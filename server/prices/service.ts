import { z } from 'zod'
import { audit } from '../audit/store.ts'
import type { Ctx } from '../ctx.ts'
import { everyPage } from '../csv.ts'
import { refusedBy } from '../db.ts'
import { Problem } from '../errors.ts'
import { newId } from '../ids.ts'
import { decodeCursor, type Page, toPage } from '../paging.ts'
import { changedMeanwhile } from '../versions.ts'
import type { ChangePriceBody, NewPriceBody, PriceFilters, PriceListQuery, PriceView } from './schema.ts'
import * as store from './store.ts'

const sortValues = ({ code }: PriceView): [string] => [code]

export async function listPrices(
  ctx: Ctx,
  { cursor, limit, ...filters }: PriceListQuery,
): Promise<Page<PriceView>> {
  const after = decodeCursor(cursor, z.tuple([z.string().max(40)]))
  return toPage(await store.listPrices(ctx.db, filters, after, limit + 1), limit, sortValues)
}

/** The same list whole, page by page. */
export function everyPrice(ctx: Ctx, filters: PriceFilters): AsyncGenerator<PriceView[]> {
  return everyPage(
    (after: [string] | null, limit) => store.listPrices(ctx.db, filters, after, limit),
    sortValues,
  )
}

export function readPrice(ctx: Ctx, id: string): Promise<PriceView> {
  return store.getPrice(ctx.db, id)
}

/** The same id again is the same price, left as it is. */
export async function addPrice(ctx: Ctx, { id = newId(), ...body }: NewPriceBody): Promise<PriceView> {
  const known = await store.findPrice(ctx.db, id)
  if (known) return known
  return ctx.db
    .$transaction(async (tx) => {
      const price = await store.insertPrice(tx, { id, ...body, updatedAt: ctx.now() })
      await audit(ctx, tx, { action: 'price.add', subjectKind: 'price', subjectId: id, after: price })
      return price
    })
    .catch(async (error: unknown) => {
      // The same call twice at once: the other was first.
      const first = refusedBy(error, 'price_item_pkey') ? await store.findPrice(ctx.db, id) : null
      if (first) return first
      throw codeTaken(error, body.code)
    })
}

export function changePrice(ctx: Ctx, id: string, seen: number, change: ChangePriceBody): Promise<PriceView> {
  return update(ctx, id, seen, 'price.change', () => change).catch((error: unknown) => {
    throw codeTaken(error, change.code ?? '')
  })
}

/** Twice is once: what was no longer offered keeps its day. */
export function retirePrice(ctx: Ctx, id: string, seen: number): Promise<PriceView> {
  return update(ctx, id, seen, 'price.retire', ({ retiredAt }) => ({ retiredAt: retiredAt ?? ctx.now() }))
}

export function restorePrice(ctx: Ctx, id: string, seen: number): Promise<PriceView> {
  return update(ctx, id, seen, 'price.restore', () => ({ retiredAt: null }))
}

function update(
  ctx: Ctx,
  id: string,
  seen: number,
  action: string,
  changeOf: (before: PriceView) => Parameters<typeof store.updatePrice>[3],
): Promise<PriceView> {
  return ctx.db.$transaction(async (tx) => {
    const before = await store.getPrice(tx, id)
    const stored = await store.updatePrice(tx, id, seen, { ...changeOf(before), updatedAt: ctx.now() })
    const after = await store.getPrice(tx, id)
    if (!stored) throw changedMeanwhile(seen, after)
    await audit(ctx, tx, { action, subjectKind: 'price', subjectId: id, before, after })
    return after
  })
}

const codeTaken = (error: unknown, code: string) =>
  refusedBy(error, 'code')
    ? new Problem('already-exists', `There is a price with the code ${code} already; take another code.`)
    : error
