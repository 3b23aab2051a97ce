import { readFileSync } from 'node:fs'
import sharp from 'sharp'
import type { Plugin } from 'vite'

/** Behind the lamp where the device cuts the corners itself. */
const GROUND = '#123c3f'
/** A maskable icon may be cut to a circle of 80 % of its width (W3C Web App Manifest, "Icon masks"). */
const SAFE_PART = 0.66

/** Draws the icons of the installed app from the one drawing of the lamp. */
export function fieldIcons(drawing: string): Plugin {
  return {
    name: 'watchlamp-field-icons',
    apply: 'build',
    async generateBundle() {
      const svg = readFileSync(drawing)
      const emit = (fileName: string, source: Uint8Array) =>
        this.emitFile({ type: 'asset', fileName: `field/${fileName}`, source })
      for (const size of [192, 512]) {
        emit(`lamp-${size}.png`, await drawn(svg, size))
        emit(`lamp-maskable-${size}.png`, await withMargin(svg, size))
      }
      // A home screen that knows no maskable icons: opaque to its edges, since the corners are cut there too.
      emit('lamp-180.png', await withMargin(svg, 180))
    },
  }
}

/** @param size width and height in pixels */
function drawn(svg: Buffer, size: number): Promise<Buffer> {
  // The drawing is 32 units wide at 72 dots an inch.
  return sharp(svg, { density: (72 * size) / 32 })
    .resize(size, size)
    .png({ compressionLevel: 9 })
    .toBuffer()
}

async function withMargin(svg: Buffer, size: number): Promise<Buffer> {
  const lamp = await drawn(svg, Math.round(size * SAFE_PART))
  return sharp({ create: { width: size, height: size, channels: 3, background: GROUND } })
    .composite([{ input: lamp, gravity: 'centre' }])
    .png({ compressionLevel: 9 })
    .toBuffer()
}
