import { createHash, randomUUID } from 'node:crypto'
import { mkdir, open, readFile, rename, stat, unlink } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import type { FileStore } from './files.ts'

const HASH = /^[0-9a-f]{64}$/

/**
 * Files on the local disk, each under the SHA-256 of its bytes: `ab/cd/abcd…`. A file appears whole or not at all: it is
 * written beside its place, flushed, and renamed; the folder is flushed too, so that it survives a power cut.
 */
export function diskFiles(root: string): FileStore {
  const pathOf = (sha256: string) => join(root, sha256.slice(0, 2), sha256.slice(2, 4), sha256)

  return {
    put: async (bytes) => {
      const sha256 = createHash('sha256').update(bytes).digest('hex')
      const path = pathOf(sha256)
      if ((await sizeOf(path)) === bytes.byteLength) return sha256
      await mkdir(dirname(path), { recursive: true })
      await writeWhole(path, bytes)
      return sha256
    },

    get: async (sha256) => {
      if (!HASH.test(sha256)) return null
      try {
        return await readFile(pathOf(sha256))
      } catch (error) {
        if ((error as NodeJS.ErrnoException).code === 'ENOENT') return null
        throw error
      }
    },
  }
}

async function sizeOf(path: string): Promise<number | null> {
  return stat(path).then(
    (found) => found.size,
    () => null,
  )
}

async function writeWhole(path: string, bytes: Uint8Array): Promise<void> {
  const beside = `${path}.${randomUUID()}.part`
  try {
    const file = await open(beside, 'wx', 0o640)
    try {
      await file.writeFile(bytes)
      await file.sync()
    } finally {
      await file.close()
    }
    await rename(beside, path)
  } catch (error) {
    await unlink(beside).catch(() => {})
    throw error
  }
  await syncFolder(dirname(path))
}

/** Some file systems cannot flush a folder; the file itself is safe by then. */
async function syncFolder(path: string): Promise<void> {
  const folder = await open(path, 'r').catch(() => null)
  await folder?.sync().catch(() => {})
  await folder?.close()
}
