import { fileTypeFromBuffer } from 'file-type'
import sharp from 'sharp'
import { invalid, Problem } from '../errors.ts'

/** Longest side of a stored picture and of a thumbnail, in pixels. */
const STORED_PX = 2048
const THUMBNAIL_PX = 320

/** More than a phone takes, and far less than it needs to fill our memory. */
const MAX_PIXELS = 64_000_000

const TAKEN = ['image/jpeg', 'image/png', 'image/webp']

export interface Picture {
  bytes: Buffer
  width: number
  height: number
}

/**
 * A picture fit to be kept and shown: upright, at most 2048 px, JPEG, and without anything that the camera wrote beside
 * it: no place, no time, no serial number.
 * @throws Problem when it is no picture that we take, is damaged, or has too many pixels
 */
export async function preparePicture(sent: Buffer, declaredType: string): Promise<Picture> {
  await checkType(sent, declaredType)
  await checkSize(sent)
  try {
    const { data, info } = await sharp(sent, { limitInputPixels: MAX_PIXELS, sequentialRead: true })
      .autoOrient()
      .resize(STORED_PX, STORED_PX, { fit: 'inside', withoutEnlargement: true })
      .flatten({ background: '#ffffff' })
      .toColourspace('srgb')
      .jpeg({ quality: 82 })
      .toBuffer({ resolveWithObject: true })
    return { bytes: data, width: info.width, height: info.height }
  } catch {
    throw damaged()
  }
}

/** What the bytes say counts; a name or header that says otherwise is refused with what it is. */
async function checkType(sent: Buffer, declaredType: string): Promise<void> {
  const found = (await fileTypeFromBuffer(sent))?.mime ?? 'no kind of file that we know'
  const declared = declaredType.split(';')[0]!.trim().toLowerCase()
  if (!TAKEN.includes(found)) {
    throw new Problem('unsupported-type', `This is ${found}. Send a photo as JPEG, PNG or WebP.`, { found })
  }
  if (declared !== found && declared !== 'application/octet-stream') {
    throw new Problem('unsupported-type', `It was sent as ${declared}, but it is ${found}.`, { found })
  }
}

/** Reads only the header: a small file can unfold into a picture that fills all memory. */
async function checkSize(sent: Buffer): Promise<void> {
  const { width, height } = await sharp(sent, { limitInputPixels: false })
    .metadata()
    .catch(() => {
      throw damaged()
    })
  if (width * height <= MAX_PIXELS) return
  throw new Problem(
    'too-large',
    `The picture has ${width} × ${height} pixels; at most ${MAX_PIXELS / 1_000_000} million are taken. Send it smaller.`,
  )
}

const damaged = () =>
  invalid({ pointer: '#', detail: 'the picture is damaged and cannot be opened; take it again' })

export function thumbnailOf(stored: Buffer): Promise<Buffer> {
  return resized(stored, THUMBNAIL_PX, 75)
}

/** A stored picture at most so many pixels long, as JPEG. */
export function resized(stored: Buffer, px: number, quality = 80): Promise<Buffer> {
  return sharp(stored)
    .resize(px, px, { fit: 'inside', withoutEnlargement: true })
    .jpeg({ quality })
    .toBuffer()
}
