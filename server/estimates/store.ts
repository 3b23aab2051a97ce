import type { Prisma } from '../../prisma/generated/client.ts'
import type { EstimateState } from '../../trade/estimates/states.ts'
import type { Db } from '../db.ts'
import { Problem } from '../errors.ts'
import { toDay } from '../time.ts'
import type { EstimateView, LineBody, LineView, SignatureView } from './schema.ts'

const WHOLE = {
  property: {
    select: { line1: true, line2: true, city: true, postcode: true, timeZone: true },
  },
  customer: { select: { name: true, phone: true, email: true } },
  lines: {
    orderBy: [{ position: 'asc' }, { id: 'asc' }],
    include: {
      finding: { select: { id: true, itemId: true, text: true, severity: true, state: true } },
      priceItem: { select: { id: true, code: true, unit: true } },
    },
  },
} satisfies Prisma.EstimateInclude
type Row = Prisma.EstimateGetPayload<{ include: typeof WHOLE }>

const iso = (at: Date | null) => at?.toISOString() ?? null

const lineOf = ({
  estimateId: _,
  findingId: __,
  priceItemId: ___,
  position: ____,
  ...line
}: Row['lines'][number]) => line as LineView

const viewOf = (row: Row, createdByName: string | null, repairWaits: boolean): EstimateView => ({
  id: row.id,
  number: row.number,
  state: row.state as EstimateState,
  propertyId: row.propertyId,
  ...row.property,
  customerId: row.customerId,
  customerName: row.customer.name,
  customerPhone: row.customer.phone,
  customerEmail: row.customer.email,
  expiresOn: toDay(row.expiresOn),
  sentAt: iso(row.sentAt),
  decidedAt: iso(row.decidedAt),
  createdAt: row.createdAt.toISOString(),
  note: row.note,
  lines: row.lines.map(lineOf),
  signature: row.signature as SignatureView | null,
  repairWaits,
  createdByName,
  version: row.version,
})

export async function findEstimate(db: Db, id: string): Promise<EstimateView | null> {
  const row = await db.estimate.findUnique({ where: { id }, include: WHOLE })
  if (!row) return null
  const by = await db.user.findUnique({ where: { id: row.createdById }, select: { name: true } })
  const waiting = await db.visitRequest.count({ where: { id, state: 'waiting' } })
  return viewOf(row, by?.name ?? null, waiting > 0)
}

export async function getEstimate(db: Db, id: string): Promise<EstimateView> {
  const estimate = await findEstimate(db, id)
  if (!estimate) throw new Problem('not-found', 'There is no such estimate.')
  return estimate
}

export async function insertEstimate(
  tx: Db,
  data: Omit<Prisma.EstimateUncheckedCreateInput, 'lines'>,
  lines: readonly LineBody[],
): Promise<void> {
  await tx.estimate.create({ data })
  await insertLines(tx, data.id, lines)
}

async function insertLines(tx: Db, estimateId: string, lines: readonly LineBody[]): Promise<void> {
  await tx.estimateLine.createMany({
    data: lines.map((line, position) => ({ ...line, estimateId, position })),
  })
}

/** In the place of those that were there. */
export async function replaceLines(tx: Db, estimateId: string, lines: readonly LineBody[]): Promise<void> {
  await tx.estimateLine.deleteMany({ where: { estimateId } })
  await insertLines(tx, estimateId, lines)
}

/** @returns false when it is no longer of that version, or in none of these states */
export async function updateEstimate(
  tx: Db,
  id: string,
  guard: { version: number; states: readonly EstimateState[] },
  change: Prisma.EstimateUncheckedUpdateManyInput,
): Promise<boolean> {
  const { count } = await tx.estimate.updateMany({
    where: { id, version: guard.version, state: { in: [...guard.states] } },
    data: { ...change, version: { increment: 1 } },
  })
  return count === 1
}

/** Lines of these options are accepted, all others declined; `''` is the part that is always taken. */
export async function decideLines(tx: Db, estimateId: string, taken: readonly string[]): Promise<void> {
  const option = { in: [...taken] }
  await tx.estimateLine.updateMany({ where: { estimateId, option }, data: { decision: 'accepted' } })
  await tx.estimateLine.updateMany({
    where: { estimateId, NOT: { option } },
    data: { decision: 'declined' },
  })
}

/** Whoever pays for a home, else its contact, else anybody on record there. */
export async function findPayer(db: Db, propertyId: string): Promise<string | null> {
  const parties = await db.propertyParty.findMany({
    where: { propertyId, until: null, customer: { archivedAt: null } },
    select: { customerId: true, role: true, isContact: true },
    orderBy: [{ isContact: 'desc' }, { since: 'asc' }],
  })
  return (parties.find(({ role }) => role === 'payer') ?? parties[0])?.customerId ?? null
}

export async function isParty(db: Db, propertyId: string, customerId: string): Promise<boolean> {
  return (await db.propertyParty.count({ where: { propertyId, customerId, until: null } })) > 0
}

/** Ids among those given that are prices. */
export async function knownPrices(db: Db, ids: readonly string[]): Promise<Set<string>> {
  const rows = await db.priceItem.findMany({ where: { id: { in: [...ids] } }, select: { id: true } })
  return new Set(rows.map(({ id }) => id))
}

/** Line ids among those given that another estimate has. */
export async function linesElsewhere(db: Db, estimateId: string, ids: readonly string[]): Promise<number> {
  return db.estimateLine.count({ where: { id: { in: [...ids] }, NOT: { estimateId } } })
}
