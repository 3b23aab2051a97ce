import type { Prisma } from '../../prisma/generated/client.ts'
import type { Db } from '../db.ts'
import { Problem } from '../errors.ts'
import type { SpaceView } from './home-schema.ts'

/** Holds a piece of equipment of this home until the transaction ends, so that two devices change it in turn. */
export async function holdEquipment(tx: Db, propertyId: string, id: string): Promise<void> {
  const rows = await tx.$queryRaw<unknown[]>`
    SELECT 1 FROM equipment WHERE id = ${id}::uuid AND property_id = ${propertyId}::uuid FOR UPDATE`
  if (rows.length === 0) throw new Problem('not-found', 'This home has no such equipment.')
}

export async function insertSpace(
  tx: Db,
  propertyId: string,
  space: Omit<SpaceView, 'version'>,
): Promise<boolean> {
  const last = await tx.space.aggregate({ where: { propertyId }, _max: { position: true } })
  const position = (last._max.position ?? -1) + 1
  const { count } = await tx.space.createMany({
    data: { ...space, propertyId, position },
    skipDuplicates: true,
  })
  return count === 1
}

/** A room of this home, held until the transaction ends. */
export async function holdSpace(tx: Db, propertyId: string, id: string): Promise<SpaceView> {
  await tx.$queryRaw`SELECT 1 FROM space WHERE id = ${id}::uuid FOR UPDATE`
  const row = await tx.space.findFirst({ where: { id, propertyId } })
  if (!row) throw new Problem('not-found', 'This home has no such room.')
  const { propertyId: _, position: __, retiredOn: ___, ...view } = row
  return view
}

export async function updateSpace(
  tx: Db,
  id: string,
  change: Prisma.SpaceUncheckedUpdateInput,
): Promise<{ version: number }> {
  return tx.space.update({
    where: { id },
    data: { ...change, version: { increment: 1 } },
    select: { version: true },
  })
}
