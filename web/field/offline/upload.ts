import type { UploadView } from '../../../server/photos/upload-schema.ts'
import { answerOf, ApiProblem, NoAnswer, urlOf } from '../../shared/api/http.ts'
import type { StoredPhoto } from './store.ts'

/** What a cut costs at most, and how finely progress shows: five seconds of a slow link. */
export const PART_BYTES = 256 * 1024

/** Told as a picture goes out. Throws to stop there. */
export interface Told {
  /** Before the first part: from here on the office may have some of it. */
  begins: () => Promise<void>
  /** How many bytes the office has: before the first, and after each part. */
  bytes: (sent: number) => Promise<void> | void
}

/**
 * Sends one picture: a small one whole, a larger one in parts, of which the office keeps those that arrived. What was
 * begun goes on where the office says that it stands, after a cut, a restart or a lost answer alike
 * (draft-ietf-httpbis-resumable-upload-12).
 */
export async function uploadPhoto(
  fetcher: typeof fetch,
  photo: StoredPhoto,
  told: Told,
  partBytes: number,
): Promise<void> {
  const length = photo.bytes.byteLength
  await told.bytes(0)
  if (length <= partBytes) return sendWhole(fetcher, photo)
  await told.begins()
  let view =
    (photo.begun && (await whereItStands(fetcher, photo))) || (await begin(fetcher, photo, partBytes))
  while (!view.complete) {
    const offset = view.offset!
    await told.bytes(offset)
    const end = Math.min(offset + partBytes, length)
    view = (await sendPart(fetcher, photo, offset, end)) ?? (await whereItStands(fetcher, photo)) ?? later()
  }
}

const addressOf = ({ inspectionId, id }: StoredPhoto) => `/inspections/${inspectionId}/photos/${id}`
const saidOf = ({ itemId, subjectId, findingId, caption, takenAt }: StoredPhoto) => ({
  itemId,
  subjectId,
  findingId,
  caption,
  takenAt,
})
const JPEG = { 'content-type': 'image/jpeg', accept: 'application/json' }

async function sendWhole(fetcher: typeof fetch, photo: StoredPhoto): Promise<void> {
  const url = urlOf(addressOf(photo), saidOf(photo))
  await answerOf(fetcher(url, { method: 'PUT', headers: JPEG, body: photo.bytes }))
}

async function begin(fetcher: typeof fetch, photo: StoredPhoto, partBytes: number): Promise<UploadView> {
  const digest = await digestOf(photo.bytes)
  return answerOf<UploadView>(
    fetcher(urlOf(`${addressOf(photo)}/upload`, saidOf(photo)), {
      method: 'PUT',
      headers: {
        ...JPEG,
        'upload-complete': '?0',
        'upload-length': String(photo.bytes.byteLength),
        ...(digest && { 'repr-digest': digest }),
      },
      body: photo.bytes.slice(0, partBytes),
    }),
  )
}

/** Null when nothing of it is there: never begun, or given up since. */
async function whereItStands(fetcher: typeof fetch, photo: StoredPhoto): Promise<UploadView | null> {
  const url = urlOf(`${addressOf(photo)}/upload`)
  try {
    return await answerOf<UploadView>(fetcher(url, { headers: { accept: 'application/json' } }))
  } catch (error) {
    if (error instanceof ApiProblem && error.type === 'not-found') return null
    throw error
  }
}

/** Its parts are gone from the office: the next sending begins anew, so that this one does not go round and round. */
function later(): never {
  throw new NoAnswer()
}

/** Null when the office stands elsewhere: the same part came to it twice. */
async function sendPart(
  fetcher: typeof fetch,
  photo: StoredPhoto,
  offset: number,
  end: number,
): Promise<UploadView | null> {
  const url = urlOf(`${addressOf(photo)}/upload`)
  try {
    return await answerOf<UploadView>(
      fetcher(url, {
        method: 'PATCH',
        headers: {
          'content-type': 'application/partial-upload',
          accept: 'application/json',
          'upload-offset': String(offset),
          'upload-complete': end === photo.bytes.byteLength ? '?1' : '?0',
        },
        body: photo.bytes.slice(offset, end),
      }),
    )
  } catch (error) {
    if (error instanceof ApiProblem && ['upload-elsewhere', 'not-found'].includes(error.type)) return null
    throw error
  }
}

/** RFC 9530; null on a page without https, where browsers have no SHA-256. */
async function digestOf(bytes: ArrayBuffer): Promise<string | null> {
  const hash = await globalThis.crypto.subtle?.digest('SHA-256', bytes)
  return hash ? `sha-256=:${btoa(String.fromCharCode(...new Uint8Array(hash)))}:` : null
}
