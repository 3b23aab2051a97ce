import type { Prisma } from '../../prisma/generated/client.ts'
import type { EstimateState } from '../../trade/estimates/states.ts'
import type { Db } from '../db.ts'
import { Problem } from '../errors.ts'
import { toDay } from '../time.ts'
import type { EstimateView, LineBody } from './schema.ts'

type Row = Omit<EstimateView, 'expiresOn' | 'sentAt' | 'decidedAt' | 'createdAt'> & {
  expiresOn: Date | null
  sentAt: Date | null
  decidedAt: Date | null
  createdAt: Date
}

/** An estimate whole, in one statement: in a transaction the ORM would ask for its parts all at once over one connection. */
export async function findEstimate(db: Db, id: string): Promise<EstimateView | null> {
  const [row] = await db.$queryRaw<Row[]>`
    SELECT x.id, x.number, x.state, x.property_id AS "propertyId", p.line1, p.line2, p.city, p.postcode,
           p.time_zone AS "timeZone", x.customer_id AS "customerId", c.name AS "customerName", c.phone AS "customerPhone",
           c.email::text AS "customerEmail", x.expires_on AS "expiresOn", x.sent_at AS "sentAt",
           x.decided_at AS "decidedAt", x.created_at AS "createdAt", x.note, x.signature, x.version,
           s.name AS "createdByName",
           EXISTS (SELECT FROM visit_request r WHERE r.id = x.id AND r.state = 'waiting') AS "repairWaits",
           coalesce((
             SELECT jsonb_agg(jsonb_build_object(
                      'id', l.id, 'option', l.option, 'description', l.description,
                      'quantityThousandths', l.quantity_thousandths, 'priceCents', l.price_cents,
                      'taxBasisPoints', l.tax_basis_points, 'decision', l.decision,
                      'finding', CASE WHEN f.id IS NOT NULL THEN jsonb_build_object(
                        'id', f.id, 'itemId', f.item_id, 'text', f.text, 'severity', f.severity, 'state', f.state) END,
                      'priceItem', CASE WHEN i.id IS NOT NULL THEN jsonb_build_object(
                        'id', i.id, 'code', i.code, 'unit', i.unit) END) ORDER BY l.position, l.id)
               FROM estimate_line l LEFT JOIN finding f ON f.id = l.finding_id
               LEFT JOIN price_item i ON i.id = l.price_item_id
              WHERE l.estimate_id = x.id), '[]') AS lines
      FROM estimate x JOIN property p ON p.id = x.property_id JOIN customer c ON c.id = x.customer_id
      LEFT JOIN staff s ON s.id = x.created_by_id
     WHERE x.id = ${id}::uuid`
  if (!row) return null
  const iso = (at: Date | null) => at?.toISOString() ?? null
  return {
    ...row,
    expiresOn: toDay(row.expiresOn),
    sentAt: iso(row.sentAt),
    decidedAt: iso(row.decidedAt),
    createdAt: row.createdAt.toISOString(),
  }
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
