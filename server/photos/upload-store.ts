import type { Prisma } from '../../prisma/generated/client.ts'
import type { Db } from '../db.ts'
import type { PutPhotoQuery } from './schema.ts'

export interface Upload {
  id: string
  inspectionId: string
  userId: string
  contentType: string
  said: PutPhotoQuery
  length: number
  /** Of the whole picture, hexadecimal, as its sender told it. */
  sha256: string | null
  /** How many bytes are here. */
  offset: number
}

export async function findUpload(db: Db, id: string): Promise<Upload | null> {
  const [row] = await db.$queryRaw<Upload[]>`
    SELECT id::text, inspection_id::text AS "inspectionId", user_id::text AS "userId", content_type AS "contentType", said,
           length, encode(sha256, 'hex') AS sha256, octet_length(bytes) AS "offset"
      FROM photo_upload WHERE id = ${id}::uuid`
  return row ?? null
}

export interface NewUpload extends Omit<Upload, 'offset' | 'sha256'> {
  sha256: Buffer | null
  bytes: Buffer
  updatedAt: Date
}

/** False when one of that id is under way already. */
export async function insertUpload(db: Db, { said, sha256, bytes, ...row }: NewUpload): Promise<boolean> {
  const { count } = await db.photoUpload.createMany({
    data: {
      ...row,
      said: said as Prisma.InputJsonObject,
      sha256: sha256 && Uint8Array.from(sha256),
      bytes: Uint8Array.from(bytes),
    },
    skipDuplicates: true,
  })
  return count === 1
}

/** Adds a part exactly where the upload stands: of two at once, or one that comes again, one is taken. */
export async function appendPart(
  db: Db,
  id: string,
  offset: number,
  part: Buffer,
  now: Date,
): Promise<boolean> {
  const count = await db.$executeRaw`
    UPDATE photo_upload SET bytes = bytes || ${Uint8Array.from(part)}, updated_at = ${now}
     WHERE id = ${id}::uuid AND octet_length(bytes) = ${offset}`
  return count === 1
}

export async function bytesOf(db: Db, id: string): Promise<Buffer | null> {
  const row = await db.photoUpload.findUnique({ where: { id }, select: { bytes: true } })
  return row && Buffer.from(row.bytes)
}

export async function deleteUpload(db: Db, id: string): Promise<void> {
  await db.photoUpload.deleteMany({ where: { id } })
}

export function countUploads(db: Db, userId: string): Promise<number> {
  return db.photoUpload.count({ where: { userId } })
}
