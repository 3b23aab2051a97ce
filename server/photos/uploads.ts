import { createHash } from 'node:crypto'
import { theUser } from '../accounts/service.ts'
import type { Ctx } from '../ctx.ts'
import { invalid, Problem } from '../errors.ts'
import type { PhotoView } from '../inspections/record-schema.ts'
import { MAX_PHOTO_BYTES, type PutPhotoQuery } from './schema.ts'
import { checkMayAdd, inspectionForPhoto, putPhoto, tooLarge } from './service.ts'
import { findPhoto } from './store.ts'
import type { AppendHeaders, BeginUploadHeaders, UploadView } from './upload-schema.ts'
import * as store from './upload-store.ts'

/** One device sends one after the other; what it gives up expires. */
const AT_ONCE = 50

interface Place {
  inspectionId: string
  photoId: string
}
interface FirstPart extends Place {
  bytes: Buffer
  contentType: string
}

/** Begins a picture in parts. Said again, it tells where the upload stands and changes nothing. */
export async function beginUpload(
  ctx: Ctx,
  { bytes, contentType, ...place }: FirstPart,
  headers: BeginUploadHeaders,
  said: PutPhotoQuery,
): Promise<UploadView> {
  const length = headers['upload-length']
  if (length > MAX_PHOTO_BYTES) throw tooLarge()
  if (headers['upload-complete'] !== '?0' || bytes.length >= length) {
    throw invalid({
      pointer: 'header/upload-length',
      detail: 'this is the whole picture: send it by PUT without parts',
    })
  }
  const inspection = await inspectionForPhoto(ctx, place.inspectionId)
  const photo = await findPhoto(ctx.db, place.photoId)
  if (photo) return whole(await reached(ctx, place, photo))
  await checkMayAdd(ctx.db, inspection, said)
  if ((await store.countUploads(ctx.db, theUser(ctx).id)) >= AT_ONCE) {
    throw new Problem(
      'too-many-requests',
      `More than ${AT_ONCE} pictures are on the way; finish those first.`,
    )
  }
  const sha256 = headers['repr-digest'] ?? null
  await store.insertUpload(ctx.db, {
    id: place.photoId,
    inspectionId: inspection.id,
    userId: theUser(ctx).id,
    contentType: contentType.slice(0, 100),
    said,
    length,
    sha256,
    bytes,
    updatedAt: ctx.now(),
  })
  const upload = await getUpload(ctx, place)
  if (upload.length !== length || (sha256 && upload.sha256 !== sha256.toString('hex')))
    throw new Problem('already-exists', 'Another photo is on the way under that id; make a new one for each.')
  return standing(upload)
}

/** Where it stands: the photo, when it is whole. */
export async function readUpload(ctx: Ctx, place: Place): Promise<UploadView> {
  const photo = await findPhoto(ctx.db, place.photoId)
  return photo ? whole(await reached(ctx, place, photo)) : standing(await getUpload(ctx, place))
}

/** Takes the next part; with the last one it becomes a photo, checked like one that came at once. */
export async function appendToUpload(
  ctx: Ctx,
  place: Place,
  headers: AppendHeaders,
  part: Buffer,
): Promise<UploadView> {
  const photo = await findPhoto(ctx.db, place.photoId)
  if (photo) return whole(await reached(ctx, place, photo))
  const upload = await getUpload(ctx, place)
  const offset = headers['upload-offset']
  const end = offset + part.length
  if (end > upload.length || (headers['upload-complete'] === '?1') !== (end === upload.length)) {
    throw invalid({
      pointer: 'header/upload-complete',
      detail: `this part ends at byte ${end} of the ${upload.length} that were said at the beginning`,
    })
  }
  if (!(await store.appendPart(ctx.db, upload.id, offset, part, ctx.now())))
    throw elsewhere(offset, (await getUpload(ctx, place)).offset)
  return end < upload.length ? standing({ ...upload, offset: end }) : finish(ctx, upload)
}

export async function giveUpUpload(ctx: Ctx, place: Place): Promise<void> {
  await store.deleteUpload(ctx.db, (await getUpload(ctx, place)).id)
}

/** What is refused now would be refused again: its parts go. A fault of ours leaves them, and the last part is sent again. */
async function finish(ctx: Ctx, upload: store.Upload): Promise<UploadView> {
  const bytes = await store.bytesOf(ctx.db, upload.id)
  // The same last part came twice, and the other one was faster.
  if (!bytes) return readUpload(ctx, { inspectionId: upload.inspectionId, photoId: upload.id })
  if (upload.sha256 && createHash('sha256').update(bytes).digest('hex') !== upload.sha256) {
    await store.deleteUpload(ctx.db, upload.id)
    throw elsewhere(upload.length, 0, 'It did not arrive as it was sent: begin again.')
  }
  const { inspectionId, contentType, said } = upload
  try {
    const { photo } = await putPhoto(ctx, { inspectionId, photoId: upload.id, bytes, contentType }, said)
    await store.deleteUpload(ctx.db, upload.id)
    return whole(photo)
  } catch (error) {
    if (error instanceof Problem && error.status < 500) await store.deleteUpload(ctx.db, upload.id)
    throw error
  }
}

async function getUpload(ctx: Ctx, { inspectionId, photoId }: Place): Promise<store.Upload> {
  const upload = await store.findUpload(ctx.db, photoId)
  const inspection = await inspectionForPhoto(ctx, inspectionId)
  if (upload?.inspectionId === inspection.id && upload.userId === theUser(ctx).id) return upload
  if (upload) throw new Problem('already-exists', 'Another photo is on the way under that id.')
  throw new Problem('not-found', 'Nothing of this picture is here; begin with its first part.')
}

async function reached(ctx: Ctx, { inspectionId }: Place, photo: PhotoView): Promise<PhotoView> {
  const inspection = await inspectionForPhoto(ctx, inspectionId)
  if (photo.inspectionId === inspection.id) return photo
  throw new Problem('already-exists', 'Another photo has that id; make a new one for each.')
}

const elsewhere = (provided: number, expected: number, detail?: string) =>
  new Problem('upload-elsewhere', detail ?? `It stands at byte ${expected}; go on from there.`, {
    'expected-offset': expected,
    'provided-offset': provided,
  })

const standing = ({ id, offset, length }: store.Upload): UploadView => ({
  photoId: id,
  complete: false,
  offset,
  length,
  photo: null,
})
const whole = (photo: PhotoView): UploadView => ({
  photoId: photo.id,
  complete: true,
  offset: null,
  length: null,
  photo,
})
