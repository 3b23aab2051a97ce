import { createHash } from 'node:crypto'
import { invalid } from '../errors.ts'
import type { Signature } from '../field/operation-schema.ts'

/** What was signed is what was shown: the hash is computed again over the words that came with it.
 *  @throws Problem when it is another */
export function checkSignature({ statement, statementHash }: Signature): void {
  if (createHash('sha256').update(statement).digest('hex') === statementHash) return
  throw invalid({
    pointer: '#/signature/statementHash',
    detail: 'does not belong to the statement: what was signed is not what was sent',
  })
}
