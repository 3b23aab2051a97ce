import { readFileSync } from 'node:fs'
import { join } from 'node:path'

/** A chunk as Vite's manifest names it: https://vite.dev/guide/backend-integration */
interface Chunk {
  file: string
  css?: string[]
  assets?: string[]
  imports?: string[]
  dynamicImports?: string[]
}
export type BuildManifest = Readonly<Record<string, Chunk>>

export const FIELD_ENTRY = 'field/index.html'

/** @param webDir what Vite has built, dist/web */
export function readBuildManifest(webDir: string): BuildManifest {
  return JSON.parse(readFileSync(join(webDir, '.vite/manifest.json'), 'utf8')) as BuildManifest
}

/**
 * Files, relative to the built folder, that a page of the build loads.
 * @param when `first`: all that the browser fetches before the page can run; `ever`: also what is imported later on
 * @throws when the manifest knows no such page
 */
export function filesOf(manifest: BuildManifest, entry: string, when: 'first' | 'ever'): Set<string> {
  const files = new Set<string>()
  const seen = new Set<string>()
  const waiting = [entry]
  for (let key = waiting.pop(); key !== undefined; key = waiting.pop()) {
    if (seen.has(key)) continue
    seen.add(key)
    const chunk = manifest[key]
    if (!chunk) throw new Error(`The build has no ${key}`)
    for (const file of [chunk.file, ...(chunk.css ?? []), ...(chunk.assets ?? [])]) files.add(file)
    waiting.push(...(chunk.imports ?? []), ...(when === 'ever' ? (chunk.dynamicImports ?? []) : []))
  }
  return files
}
