import type { Prisma } from '../../prisma/generated/client.ts'
import type { Db } from '../db.ts'
import { Problem } from '../errors.ts'
import { photoView } from '../inspections/record-store.ts'
import type { PhotoView } from '../inspections/record-schema.ts'

export async function findPhoto(db: Db, id: string): Promise<PhotoView | null> {
  const row = await db.photo.findUnique({ where: { id } })
  return row && photoView(row)
}

export async function getPhoto(db: Db, id: string): Promise<PhotoView> {
  const photo = await findPhoto(db, id)
  if (!photo) throw new Problem('not-found', 'There is no such photo.')
  return photo
}

export interface NewPhoto extends Omit<PhotoView, 'createdAt' | 'takenAt' | 'annotations'> {
  takenAt: Date | null
  createdAt: Date
}

/** False when there is a photo of that id already. */
export async function insertPhoto(tx: Db, photo: NewPhoto): Promise<boolean> {
  const hex = (text: string) => Uint8Array.from(Buffer.from(text, 'hex'))
  const { count } = await tx.photo.createMany({
    data: { ...photo, sha256: hex(photo.sha256), originalSha256: hex(photo.originalSha256) },
    skipDuplicates: true,
  })
  return count === 1
}

export async function updatePhoto(
  tx: Db,
  id: string,
  change: Prisma.PhotoUncheckedUpdateInput,
): Promise<PhotoView> {
  return photoView(await tx.photo.update({ where: { id }, data: change }))
}

export async function deletePhoto(tx: Db, id: string): Promise<void> {
  await tx.photo.delete({ where: { id } })
}

/** What a photo says that it belongs to, as far as it exists at that home. */
export async function findOwners(
  db: Db,
  propertyId: string,
  { findingId, subjectId }: { findingId?: string | null | undefined; subjectId?: string | null | undefined },
): Promise<{ finding: boolean; subject: boolean }> {
  const finding = !findingId || (await db.finding.count({ where: { id: findingId, propertyId } })) > 0
  const subject =
    !subjectId ||
    (await db.equipment.count({ where: { id: subjectId, propertyId } })) > 0 ||
    (await db.space.count({ where: { id: subjectId, propertyId } })) > 0
  return { finding, subject }
}
