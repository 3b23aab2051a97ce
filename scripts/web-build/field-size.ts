import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { gzipSync } from 'node:zlib'
import { FIELD_ENTRY, filesOf, readBuildManifest } from './entry-files.ts'

/** JavaScript of the field app's first load, compressed: what a phone fetches on a weak signal before anything shows. */
const LIMIT_BYTES = 180_000

/**
 * Adds up the compressed JavaScript that the field app loads at its start.
 * @returns one line for the person who builds
 * @throws with the largest files when it is more than a weak signal bears
 */
export function checkFieldSize(webDir: string, limit = LIMIT_BYTES): string {
  const scripts = [...filesOf(readBuildManifest(webDir), FIELD_ENTRY, 'first')]
    .filter((file) => file.endsWith('.js'))
    .map((file) => ({ file, bytes: gzipSync(readFileSync(join(webDir, file))).byteLength }))
    .sort((a, b) => b.bytes - a.bytes)
  const total = scripts.reduce((sum, { bytes }) => sum + bytes, 0)
  const words = `Field app, first load: ${inKb(total)} of JavaScript (gzip) in ${scripts.length} files; at most ${inKb(limit)}`
  if (total <= limit) return words
  const largest = scripts.slice(0, 5).map(({ file, bytes }) => `  ${inKb(bytes)}  ${file}`)
  throw new Error(
    `${words}. The largest:\n${largest.join('\n')}\nLoad later what the first screen does not need.`,
  )
}

const inKb = (bytes: number) => `${(bytes / 1000).toFixed(1)} kB`
