import { createHash } from 'node:crypto'
import { findItem } from '../../trade/checklist/checklist.ts'
import { theUser } from '../accounts/service.ts'
import { audit } from '../audit/store.ts'
import type { Ctx } from '../ctx.ts'
import type { Db } from '../db.ts'
import { invalid, Problem } from '../errors.ts'
import type { PhotoView } from '../inspections/record-schema.ts'
import { findBegunAs } from '../inspections/operation-store.ts'
import { findInspection, getInspection, type Inspection, lockInspection } from '../inspections/store.ts'
import { checkMayFill } from '../inspections/writing.ts'
import { preparePicture, thumbnailOf } from './picture.ts'
import { type ChangePhotoBody, MAX_PHOTO_BYTES, type PutPhotoQuery } from './schema.ts'
import { saidBefore } from './said.ts'
import * as store from './store.ts'

export const tooLarge = () =>
  new Problem('too-large', `A photo may have ${MAX_PHOTO_BYTES / 1024 / 1024} MB at most; send it smaller.`)

interface Sent {
  inspectionId: string
  photoId: string
  bytes: Buffer
  contentType: string
}

/**
 * Takes in a photo. The same id with the same bytes again is the same photo, so that an upload that broke off is simply
 * repeated; photos may arrive after the inspection was completed, until its report is issued.
 */
export async function putPhoto(
  ctx: Ctx,
  { inspectionId, photoId, bytes, contentType }: Sent,
  query: PutPhotoQuery,
): Promise<{ photo: PhotoView; isNew: boolean }> {
  const inspection = await inspectionForPhoto(ctx, inspectionId)
  const originalSha256 = createHash('sha256').update(bytes).digest('hex')
  const before = await store.findPhoto(ctx.db, photoId)
  if (before) return { photo: sameOrRefused(before, inspection.id, originalSha256), isNew: false }
  await checkMayAdd(ctx.db, inspection, query)
  const picture = await preparePicture(bytes, contentType)
  const sha256 = await ctx.files.put(picture.bytes)
  return ctx.db.$transaction(async (tx) => {
    checkNotIssued(await lockInspection(tx, inspection.id))
    const isNew = await store.insertPhoto(tx, {
      id: photoId,
      inspectionId: inspection.id,
      findingId: query.findingId ?? null,
      itemId: query.itemId ?? null,
      subjectId: query.subjectId ?? null,
      sha256,
      originalSha256,
      width: picture.width,
      height: picture.height,
      bytes: picture.bytes.length,
      caption: query.caption,
      takenAt: query.takenAt ? new Date(query.takenAt) : null,
      createdById: theUser(ctx).id,
      createdAt: ctx.now(),
    })
    if (isNew) await takeWhatWasSaid(tx, inspection.id, photoId)
    return { photo: sameOrRefused(await store.getPhoto(tx, photoId), inspection.id, originalSha256), isNew }
  })
}

/** Whether this inspection takes another photo, of what the query says. */
export async function checkMayAdd(db: Db, inspection: Inspection, query: PutPhotoQuery): Promise<void> {
  checkNotIssued(inspection)
  await checkOwners(db, inspection, query, '?')
}

/** Caption and marks may have come before the photo; so may its removal. */
async function takeWhatWasSaid(tx: Db, inspectionId: string, photoId: string): Promise<void> {
  const said = await saidBefore(tx, inspectionId, photoId)
  if (said === 'removed') throw new Problem('wrong-state', 'This photo was removed before it arrived.')
  if (Object.keys(said).length > 0) await store.updatePhoto(tx, photoId, said)
}

/** A device may know the inspection by an id of its own. */
export async function inspectionForPhoto(ctx: Ctx, inspectionId: string): Promise<Inspection> {
  const found =
    (await findInspection(ctx.db, inspectionId)) ??
    (await getInspection(ctx.db, (await findBegunAs(ctx.db, inspectionId)) ?? inspectionId))
  checkMayFill(ctx, found)
  return found
}

function sameOrRefused(photo: PhotoView, inspectionId: string, originalSha256: string): PhotoView {
  if (photo.inspectionId === inspectionId && photo.originalSha256 === originalSha256) return photo
  throw new Problem('already-exists', 'Another photo has that id; make a new one for each.')
}

function checkNotIssued(inspection: Inspection): void {
  if (inspection.state !== 'issued') return
  throw new Problem(
    'wrong-state',
    'The report of this inspection has been issued; its photos stay as they are.',
    {
      state: inspection.state,
    },
  )
}

async function checkOwners(
  db: Db,
  inspection: Inspection,
  owners: {
    findingId?: string | null | undefined
    subjectId?: string | null | undefined
    itemId?: string | null | undefined
  },
  prefix: '?' | '#/',
): Promise<void> {
  if (owners.itemId && !findItem(owners.itemId)) {
    throw invalid({ pointer: `${prefix}itemId`, detail: `the checklist has no item “${owners.itemId}”` })
  }
  const { finding, subject } = await store.findOwners(db, inspection.propertyId, owners)
  if (!finding)
    throw invalid({ pointer: `${prefix}findingId`, detail: 'there is no such finding at this home' })
  if (!subject) {
    throw invalid({
      pointer: `${prefix}subjectId`,
      detail: 'there is no such room or equipment at this home',
    })
  }
}

export async function readPhoto(ctx: Ctx, id: string): Promise<PhotoView> {
  const photo = await store.getPhoto(ctx.db, id)
  checkMayFill(ctx, await getInspection(ctx.db, photo.inspectionId))
  return photo
}

export async function readPicture(
  ctx: Ctx,
  id: string,
  size: 'whole' | 'thumbnail',
): Promise<{ bytes: Buffer; etag: string }> {
  const { sha256 } = await readPhoto(ctx, id)
  const stored = await ctx.files.get(sha256)
  if (!stored) {
    ctx.log.error({ photo: id, sha256 }, 'a picture is missing from the file store')
    throw new Problem('not-found', 'The picture is missing from the store; restore it from the backup.')
  }
  const bytes = size === 'whole' ? stored : await thumbnailOf(stored)
  return { bytes, etag: `"${sha256.slice(0, 32)}-${size}"` }
}

export async function changePhoto(ctx: Ctx, id: string, change: ChangePhotoBody): Promise<PhotoView> {
  return ctx.db.$transaction(async (tx) => {
    const photo = await store.getPhoto(tx, id)
    const inspection = await lockInspection(tx, photo.inspectionId)
    checkMayFill(ctx, inspection)
    checkNotIssued(inspection)
    await checkOwners(tx, inspection, change, '#/')
    return store.updatePhoto(tx, id, change)
  })
}

/** The row goes; the file stays, for other photos may be the same bytes. */
export async function removePhoto(ctx: Ctx, id: string): Promise<void> {
  await ctx.db.$transaction(async (tx) => {
    const photo = await store.getPhoto(tx, id)
    const inspection = await lockInspection(tx, photo.inspectionId)
    checkMayFill(ctx, inspection)
    checkNotIssued(inspection)
    await store.deletePhoto(tx, id)
    await audit(ctx, tx, { action: 'photo.remove', subjectKind: 'photo', subjectId: id, before: photo })
  })
}
