import { audit } from '../audit/store.ts'
import type { Ctx } from '../ctx.ts'
import type { Db } from '../db.ts'
import { Problem } from '../errors.ts'
import type { PayloadOf } from '../field/operation-schema.ts'
import { listSaid } from '../inspections/operation-store.ts'
import type { PhotoView } from '../inspections/record-schema.ts'
import { type Effect, type Writing, writtenElsewhere } from '../inspections/writing.ts'
import type { DescribePhotoBody } from './schema.ts'
import * as store from './store.ts'

// What a device says of a photo may come before the photo does: words are small and pictures are large. It then waits
// among the operations of the inspection, and the photo finds it there.

const subjectOf = (photoId: string) => `photo:${photoId}`

export async function describePhoto(
  ctx: Ctx,
  tx: Db,
  writing: Writing,
  { photoId, ...said }: DescribePhotoBody,
): Promise<Effect> {
  const subject = subjectOf(photoId)
  const before = await photoOf(tx, writing, photoId)
  if (!before) return { subject, version: null, superseded: null }
  const elsewhere = wasDescribed(before) ? await byOthers(ctx, tx, writing, subject) : null
  await store.updatePhoto(tx, photoId, said)
  const { id, caption, annotations } = before
  return {
    subject,
    version: null,
    superseded: elsewhere && { kind: 'photo', record: { id, caption, annotations }, by: elsewhere.by },
  }
}

export async function removePhotoOfDevice(
  ctx: Ctx,
  tx: Db,
  writing: Writing,
  { photoId }: PayloadOf<'remove-photo'>,
): Promise<Effect> {
  const before = await photoOf(tx, writing, photoId)
  if (before) {
    await store.deletePhoto(tx, photoId)
    await audit(ctx, tx, { action: 'photo.remove', subjectKind: 'photo', subjectId: photoId, before })
  }
  return { subject: subjectOf(photoId), version: null, superseded: null }
}

/** Null while the photo is on its way. */
async function photoOf(tx: Db, { inspection }: Writing, photoId: string): Promise<PhotoView | null> {
  const photo = await store.findPhoto(tx, photoId)
  if (photo && photo.inspectionId !== inspection.id) {
    throw new Problem('not-found', 'There is no such photo at this inspection.')
  }
  return photo
}

const wasDescribed = ({ caption, annotations }: PhotoView) => caption !== '' || annotations.length > 0

const byOthers = (ctx: Ctx, tx: Db, writing: Writing, subject: string) =>
  writtenElsewhere(ctx, tx, { ...writing, base: null }, subject, { version: 1 })

/** What was said of a photo before it arrived; `removed` when it was taken back meanwhile. */
export async function saidBefore(
  tx: Db,
  inspectionId: string,
  photoId: string,
): Promise<Omit<DescribePhotoBody, 'photoId'> | 'removed'> {
  const operations = await listSaid(tx, inspectionId, subjectOf(photoId))
  if (operations.some(({ command }) => command === 'remove-photo')) return 'removed'
  const all = operations.map(({ payload }) => payload as DescribePhotoBody)
  const { photoId: _, ...said } = Object.assign({}, ...all) as DescribePhotoBody
  return said
}
