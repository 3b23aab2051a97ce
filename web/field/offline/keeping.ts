import { unkept } from './unkept.ts'
import { syncing } from './use-field.ts'

/**
 * Does what keeps a change on this device, then lets it be sent.
 * @throws what the work throws: it was not kept
 */
export async function keeping<Result>(work: () => Promise<Result>): Promise<Result> {
  const over = unkept.add()
  try {
    const result = await work()
    void syncing.now()
    return result
  } finally {
    over()
  }
}
