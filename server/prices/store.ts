import type { PriceItem, Prisma } from '../../prisma/generated/client.ts'
import type { Db } from '../db.ts'
import { Problem } from '../errors.ts'
import type { PriceFilters, PriceView } from './schema.ts'

const viewOf = ({ updatedAt: _, ...row }: PriceItem): PriceView => ({
  ...row,
  unit: row.unit as PriceView['unit'],
  retiredAt: row.retiredAt?.toISOString() ?? null,
})

export async function findPrice(db: Db, id: string): Promise<PriceView | null> {
  const row = await db.priceItem.findUnique({ where: { id } })
  return row && viewOf(row)
}

export async function getPrice(db: Db, id: string): Promise<PriceView> {
  const price = await findPrice(db, id)
  if (!price) throw new Problem('not-found', 'There is no such price.')
  return price
}

export async function insertPrice(db: Db, data: Prisma.PriceItemUncheckedCreateInput): Promise<PriceView> {
  return viewOf(await db.priceItem.create({ data }))
}

/** @returns false when the version seen is no longer the one stored */
export async function updatePrice(
  db: Db,
  id: string,
  seen: number,
  change: Prisma.PriceItemUpdateManyMutationInput,
): Promise<boolean> {
  const { count } = await db.priceItem.updateMany({
    where: { id, version: seen },
    data: { ...change, version: { increment: 1 } },
  })
  return count === 1
}

/** By code; what was typed is looked for in code and name. */
export async function listPrices(
  db: Db,
  { q, retired }: PriceFilters,
  after: readonly [string] | null,
  limit: number,
): Promise<PriceView[]> {
  const rows = await db.priceItem.findMany({
    where: {
      retiredAt: retired ? { not: null } : null,
      ...(q && {
        OR: [{ code: { contains: q, mode: 'insensitive' } }, { name: { contains: q, mode: 'insensitive' } }],
      }),
      ...(after && { code: { gt: after[0] } }),
    },
    orderBy: { code: 'asc' },
    take: limit,
  })
  return rows.map(viewOf)
}

/** What is offered today for findings of these checklist items, by code. */
export async function listCorrecting(db: Db, itemIds: readonly string[]): Promise<PriceView[]> {
  const rows = await db.priceItem.findMany({
    where: { retiredAt: null, correctsItems: { hasSome: [...itemIds] } },
    orderBy: { code: 'asc' },
  })
  return rows.map(viewOf)
}
