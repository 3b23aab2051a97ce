import { createHash } from 'node:crypto'
import type { FileStore } from '../../server/gateways/files.ts'

/** Files kept in memory, for as long as a test runs. */
export function memoryFiles(): FileStore {
  const files = new Map<string, Buffer>()
  return {
    put: async (bytes) => {
      const sha256 = createHash('sha256').update(bytes).digest('hex')
      files.set(sha256, Buffer.from(bytes))
      return sha256
    },
    get: async (sha256) => files.get(sha256) ?? null,
  }
}
