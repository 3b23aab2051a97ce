import { crc32, deflateSync } from 'node:zlib'
import sharp from 'sharp'

/** A real picture, every one different, with a place, a camera and a turned orientation written into it. */
export function buildJpeg(width = 800, height = 600, seed = 1): Promise<Buffer> {
  const pixels = Buffer.alloc(width * height * 3)
  for (let i = 0; i < pixels.length; i++) pixels[i] = ((i * 7 + seed * 31) ^ (i >> 9)) & 255
  return sharp(pixels, { raw: { width, height, channels: 3 } })
    .withExif({
      IFD0: { Make: 'Box', Model: 'Brownie', Artist: 'Robin Vale' },
      IFD3: {
        GPSLatitudeRef: 'N',
        GPSLatitude: '44/1 42/1 1234/100',
        GPSLongitudeRef: 'W',
        GPSLongitude: '73/1 27/1 5678/100',
      },
    })
    .withMetadata({ orientation: 6 })
    .jpeg({ quality: 90 })
    .toBuffer()
}

/** A drawn picture of a panel, to be looked at in a report. */
export function buildDrawing(words: string, colour = '#7a8794'): Promise<Buffer> {
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="1600" height="1200">
    <rect width="1600" height="1200" fill="#d8d2c4"/>
    <rect x="420" y="120" width="760" height="960" rx="18" fill="${colour}"/>
    ${[0, 1, 2, 3, 4, 5]
      .map(
        (row) => `<rect x="520" y="${220 + row * 130}" width="250" height="90" rx="8" fill="#23282d"/>
      <rect x="830" y="${220 + row * 130}" width="250" height="90" rx="8" fill="#23282d"/>`,
      )
      .join('')}
    <text x="800" y="180" font-size="44" text-anchor="middle" fill="#fff">${words}</text></svg>`
  return sharp(Buffer.from(svg)).jpeg().toBuffer()
}

/** A white PNG of that many pixels each way, one bit each: a hundred kilobytes that unfold into gigabytes. */
export function buildHugePng(pixels: number): Buffer {
  const header = Buffer.alloc(13)
  header.writeUInt32BE(pixels, 0)
  header.writeUInt32BE(pixels, 4)
  header.set([1, 0, 0, 0, 0], 8)
  const rows = Buffer.alloc((1 + pixels / 8) * pixels)
  return Buffer.concat([
    Buffer.from('89504e470d0a1a0a', 'hex'),
    chunk('IHDR', header),
    chunk('IDAT', deflateSync(rows, { level: 1 })),
    chunk('IEND', Buffer.alloc(0)),
  ])
}

function chunk(type: string, body: Buffer): Buffer {
  const named = Buffer.concat([Buffer.from(type), body])
  const [length, check] = [Buffer.alloc(4), Buffer.alloc(4)]
  length.writeUInt32BE(body.length)
  check.writeUInt32BE(crc32(named))
  return Buffer.concat([length, named, check])
}
