import type { Prisma, Space } from '../../prisma/generated/client.ts'
import type { Day } from '../../trade/dates.ts'
import type { Db } from '../db.ts'
import { Problem } from '../errors.ts'
import { fromDay, toDay } from '../time.ts'
import type { SpaceView } from './space-schema.ts'

export function spaceOf(row: Space): SpaceView {
  return {
    id: row.id,
    propertyId: row.propertyId,
    kind: row.kind as SpaceView['kind'],
    name: row.name,
    level: row.level,
    areaSqFt: row.areaSqFt,
    hasSink: row.hasSink,
    hasTubOrShower: row.hasTubOrShower,
    hasFuelBurner: row.hasFuelBurner,
    sleepingArea: row.sleepingArea,
    position: row.position,
    retiredOn: toDay(row.retiredOn),
    version: row.version,
  }
}

export async function getSpace(db: Db, id: string): Promise<SpaceView> {
  const row = await db.space.findUnique({ where: { id } })
  if (!row) throw new Problem('not-found', 'There is no such space.')
  return spaceOf(row)
}

/** Ids that exist already are left as they are. @returns how many are new */
export async function insertSpaces(db: Db, data: Prisma.SpaceCreateManyInput[]): Promise<number> {
  if (data.length === 0) return 0
  const { count } = await db.space.createMany({ data, skipDuplicates: true })
  return count
}

export async function updateSpace(
  db: Db,
  id: string,
  seen: number,
  change: Prisma.SpaceUncheckedUpdateManyInput,
): Promise<boolean> {
  const { count } = await db.space.updateMany({
    where: { id, version: seen },
    data: { ...change, version: { increment: 1 } },
  })
  return count === 1
}

export async function nextPosition(db: Db, propertyId: string): Promise<number> {
  const { _max } = await db.space.aggregate({ where: { propertyId }, _max: { position: true } })
  return (_max.position ?? -1) + 1
}

/** Removes a space that nothing ever referred to; else ends it. False when the version seen is not the one stored. */
export async function endSpace(
  db: Db,
  id: string,
  seen: number,
  today: Day,
): Promise<'removed' | 'retired' | false> {
  const removed = await db.$executeRaw`
    DELETE FROM space s WHERE s.id = ${id}::uuid AND s.version = ${seen}
      AND NOT EXISTS (SELECT FROM equipment e WHERE e.space_id = s.id)
      AND NOT EXISTS (SELECT FROM finding f WHERE f.property_id = s.property_id AND f.space_id = s.id)
      AND NOT EXISTS (SELECT FROM inspection i JOIN answer a ON a.inspection_id = i.id
                       WHERE i.property_id = s.property_id AND a.subject_id = s.id)`
  if (removed === 1) return 'removed'
  return (await updateSpace(db, id, seen, { retiredOn: fromDay(today) })) && 'retired'
}

export function listKinds(db: Db, propertyId: string): Promise<{ kind: string }[]> {
  return db.space.findMany({ where: { propertyId, retiredOn: null }, select: { kind: true } })
}
