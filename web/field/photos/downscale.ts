/** Longest side that is kept: enough to read a label, small enough for a weak signal. */
const LONGEST_PX = 2048
const QUALITY = 0.8

/**
 * A picture as JPEG of at most 2048 px, upright and without what the camera wrote beside it (place, owner).
 * @throws in words for the person when it is no picture that this browser can read
 */
export async function downscale(file: Blob): Promise<ArrayBuffer> {
  const bitmap = await createImageBitmap(file, { imageOrientation: 'from-image' }).catch(() => null)
  if (!bitmap)
    throw new Error(
      'This is no picture that can be read here. Take it with the camera, or pick a JPEG or PNG.',
    )
  const scale = Math.min(1, LONGEST_PX / Math.max(bitmap.width, bitmap.height))
  const canvas = document.createElement('canvas')
  canvas.width = Math.max(1, Math.round(bitmap.width * scale))
  canvas.height = Math.max(1, Math.round(bitmap.height * scale))
  canvas.getContext('2d')!.drawImage(bitmap, 0, 0, canvas.width, canvas.height)
  bitmap.close()
  const jpeg = await new Promise<Blob | null>((resolve) => canvas.toBlob(resolve, 'image/jpeg', QUALITY))
  if (!jpeg) throw new Error('The picture could not be made smaller. Take it again.')
  return jpeg.arrayBuffer()
}
