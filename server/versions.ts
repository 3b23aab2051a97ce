import { z } from 'zod'
import { Problem } from './errors.ts'

/** `If-Match: "4"`: the version that the person saw. Needed on every change of a record that two may edit. */
export const ifMatchHeaders = z.object({
  'if-match': z.string().max(40).optional().describe('The ETag of the version you saw, such as "4"'),
})

export function seenVersion(headers: { 'if-match'?: string | undefined }): number {
  const match = /^(?:W\/)?"(\d{1,9})"$/.exec(headers['if-match']?.trim() ?? '')
  if (!match) {
    throw new Problem(
      'version-missing',
      'Send If-Match with the ETag of the record as you read it, such as "4".',
    )
  }
  return Number(match[1])
}

/** Thrown when a guarded update hit no row: tells both versions, so that the screen lets the person choose. */
export function changedMeanwhile(seen: number, current: { version: number }): Problem {
  return new Problem(
    'changed-meanwhile',
    `You had version ${seen}; version ${current.version} is stored. Choose which to keep.`,
    { seen, current },
  )
}
