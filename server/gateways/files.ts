/** Where photos and reports are kept, by the SHA-256 of their bytes. Local disk by default. */
export interface FileStore {
  /** Stores bytes under their hash (hex) and returns it; storing the same bytes again changes nothing. */
  put: (bytes: Uint8Array) => Promise<string>
  /** The bytes, or null when there are none of that hash. */
  get: (sha256: string) => Promise<Buffer | null>
}
