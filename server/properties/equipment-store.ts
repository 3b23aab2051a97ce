import type { Equipment, Prisma } from '../../prisma/generated/client.ts'
import type { Db } from '../db.ts'
import { Problem } from '../errors.ts'
import { toDay } from '../time.ts'
import type { EquipmentView } from './equipment-schema.ts'

export function equipmentOf(row: Equipment): EquipmentView {
  return {
    id: row.id,
    propertyId: row.propertyId,
    spaceId: row.spaceId,
    parentId: row.parentId,
    kind: row.kind as EquipmentView['kind'],
    label: row.label,
    details: row.details as Record<string, unknown>,
    manufacturedOn: toDay(row.manufacturedOn),
    installedOn: toDay(row.installedOn),
    replaceBy: toDay(row.replaceBy),
    replaceByAssumed: row.replaceByAssumed,
    lastCheckedOn: toDay(row.lastCheckedOn),
    nextCheckOn: toDay(row.nextCheckOn),
    retiredOn: toDay(row.retiredOn),
    retiredReason: row.retiredReason,
    replacedById: row.replacedById,
    version: row.version,
  }
}

export async function getEquipment(db: Db, id: string): Promise<EquipmentView> {
  const row = await db.equipment.findUnique({ where: { id } })
  if (!row) throw new Problem('not-found', 'There is no such equipment.')
  return equipmentOf(row)
}

/** @returns false when there is equipment of that id already */
export async function insertEquipment(db: Db, data: Prisma.EquipmentCreateManyInput): Promise<boolean> {
  const { count } = await db.equipment.createMany({ data, skipDuplicates: true })
  return count === 1
}

export async function updateEquipment(
  db: Db,
  id: string,
  seen: number,
  change: Prisma.EquipmentUncheckedUpdateManyInput,
): Promise<boolean> {
  const { count } = await db.equipment.updateMany({
    where: { id, version: seen },
    data: { ...change, version: { increment: 1 } },
  })
  return count === 1
}

/** Parts of a retired thing hang on what took its place. */
export async function moveParts(db: Db, from: string, to: string): Promise<void> {
  await db.equipment.updateMany({
    where: { parentId: from, retiredOn: null },
    data: { parentId: to, version: { increment: 1 } },
  })
}

/** What the dates of equipment depend on besides itself. */
export async function findDatePolicy(db: Db, propertyId: string) {
  const [property, company] = await Promise.all([
    db.property.findUnique({
      where: { id: propertyId },
      select: { timeZone: true, jurisdiction: { select: { isUs: true } } },
    }),
    db.company.findUnique({ where: { id: 1 }, select: { policy: true } }),
  ])
  if (!property) throw new Problem('not-found', 'There is no such home.')
  return {
    timeZone: property.timeZone,
    isUs: property.jurisdiction?.isUs ?? null,
    policy: (company?.policy ?? {}) as Record<string, unknown>,
  }
}

/** Of a home: the spaces and equipment among those ids. */
export async function findPlaces(
  db: Db,
  propertyId: string,
  spaceId: string | null,
  parentId: string | null,
) {
  const [space, parent] = await Promise.all([
    spaceId ? db.space.findFirst({ where: { id: spaceId, propertyId }, select: { id: true } }) : null,
    parentId ? db.equipment.findFirst({ where: { id: parentId, propertyId }, select: { id: true } }) : null,
  ])
  return { space, parent }
}

/** True when `below` is the equipment of that id, or hangs on it at any depth. */
export async function isBelow(db: Db, below: string, id: string): Promise<boolean> {
  const [row] = await db.$queryRaw<{ found: boolean }[]>`
    WITH RECURSIVE above (id) AS (
      SELECT ${below}::uuid
      UNION SELECT e.parent_id FROM equipment e JOIN above a ON e.id = a.id WHERE e.parent_id IS NOT NULL)
    SELECT EXISTS (SELECT FROM above WHERE id = ${id}::uuid) AS found`
  return row?.found ?? false
}
