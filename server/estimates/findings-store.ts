import { Prisma } from '../../prisma/generated/client.ts'
import { OFFERABLE_FINDINGS } from '../../trade/estimates/states.ts'
import type { FindingState } from '../../trade/inspection/finding-states.ts'
import type { Db } from '../db.ts'

export interface OfferableFinding {
  id: string
  itemId: string
  text: string
  correction: string
  state: FindingState
}

/** Findings at a home that may be offered, the gravest first: those named, or all that nobody has offered yet. */
export function listOfferable(
  db: Db,
  propertyId: string,
  { inspectionId, findingIds }: { inspectionId?: string | undefined; findingIds?: string[] | undefined },
): Promise<OfferableFinding[]> {
  const named = findingIds
    ? Prisma.sql`f.id = ANY(${findingIds}::uuid[]) AND f.state = ANY(${[...OFFERABLE_FINDINGS]})`
    : Prisma.sql`f.state = 'open'`
  const of = inspectionId ? Prisma.sql`AND f.inspection_id = ${inspectionId}::uuid` : Prisma.empty
  return db.$queryRaw`
    SELECT f.id, f.item_id AS "itemId", f.text, f.correction, f.state FROM finding f
     WHERE f.property_id = ${propertyId}::uuid AND f.closed_on IS NULL AND ${named} ${of}
     ORDER BY array_position(ARRAY['unsafe', 'repair', 'investigate', 'improve', 'watch'], f.severity), f.found_on, f.id`
}

/** Ids among those given that are findings at the home. */
export async function knownFindings(
  db: Db,
  propertyId: string,
  ids: readonly string[],
): Promise<Set<string>> {
  const rows = await db.finding.findMany({
    where: { propertyId, id: { in: [...ids] } },
    select: { id: true },
  })
  return new Set(rows.map(({ id }) => id))
}

/** Those in other states, and closed ones, stay as they are. */
export async function moveFindings(
  tx: Db,
  ids: readonly string[],
  from: readonly FindingState[],
  to: FindingState,
  now: Date,
): Promise<void> {
  await tx.finding.updateMany({
    where: { id: { in: [...ids] }, state: { in: [...from] }, closedOn: null },
    data: { state: to, version: { increment: 1 }, updatedAt: now },
  })
}

/** Back to open, unless another estimate that was sent still offers them. */
export async function releaseFindings(tx: Db, ids: readonly string[], now: Date): Promise<void> {
  await tx.$executeRaw`
    UPDATE finding f SET state = 'open', version = f.version + 1, updated_at = ${now}::timestamptz
     WHERE f.id = ANY(${[...ids]}::uuid[]) AND f.state = 'on-estimate' AND f.closed_on IS NULL
       AND NOT EXISTS (SELECT 1 FROM estimate_line l JOIN estimate x ON x.id = l.estimate_id
                        WHERE l.finding_id = f.id AND x.state = 'sent')`
}

/** Left as they are, unless another estimate that was sent still offers them. @returns those that are declined now */
export async function declineFindings(tx: Db, ids: readonly string[], now: Date): Promise<string[]> {
  const rows = await tx.$queryRaw<{ id: string }[]>`
    UPDATE finding f SET state = 'declined', version = f.version + 1, updated_at = ${now}::timestamptz
     WHERE f.id = ANY(${[...ids]}::uuid[]) AND f.state IN ('open', 'on-estimate') AND f.closed_on IS NULL
       AND NOT EXISTS (SELECT 1 FROM estimate_line l JOIN estimate x ON x.id = l.estimate_id
                        WHERE l.finding_id = f.id AND x.state = 'sent')
    RETURNING f.id`
  return rows.map(({ id }) => id)
}

/** They know that it is unsafe, and decide against its correction. */
export async function setRefusal(
  tx: Db,
  id: string,
  refusal: Prisma.InputJsonObject,
  now: Date,
): Promise<void> {
  await tx.finding.updateMany({
    where: { id, closedOn: null },
    data: { refusal, version: { increment: 1 }, updatedAt: now },
  })
}

/** Accepted repairs of a home are booked while a visit for repairs is; called off, they wait for another one. */
export async function settleBooked(tx: Db, propertyId: string, now: Date): Promise<void> {
  const visit = (states: Prisma.Sql) => Prisma.sql`EXISTS (
    SELECT 1 FROM visit v WHERE v.property_id = f.property_id AND v.kind = 'repair' AND v.state IN (${states})
       AND v.starts_at >= f.found_on)`
  const ahead = visit(Prisma.sql`'booked', 'travelling', 'on-site'`)
  const heldOrAhead = visit(Prisma.sql`'booked', 'travelling', 'on-site', 'finished'`)
  await tx.$executeRaw`
    UPDATE finding f SET state = CASE f.state WHEN 'accepted' THEN 'booked' ELSE 'accepted' END,
                         version = f.version + 1, updated_at = ${now}::timestamptz
     WHERE f.property_id = ${propertyId}::uuid AND f.closed_on IS NULL
       AND (f.state = 'accepted' AND ${ahead} OR f.state = 'booked' AND NOT ${heldOrAhead})`
}
