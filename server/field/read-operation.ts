import { createHash } from 'node:crypto'
import { z } from 'zod'
import { type FieldFault, Problem } from '../errors.ts'
import { storableText } from '../storable-text.ts'
import { type FieldOperation, operationSchema, payloads } from './operation-schema.ts'
import { inTodaysShape, type Raw } from './operation-versions.ts'

/** What can be known of anything that was sent as an operation. */
interface Sent {
  /** Null where it is no id that can be stored under. */
  id: string | null
  shownId: string | null
  /** Stays the same however often and under whichever version of the office it is sent. */
  fingerprint: string
}

/** An operation that no schema fits, and what of it can be kept. */
export interface Unreadable {
  fault: Problem
  command: string
  payload: unknown
}
export type ReadOperation = Sent & ({ operation: FieldOperation } | Unreadable | { isNewer: true })

const idShape = z.uuid()

export function readOperation(raw: unknown): ReadOperation {
  const given = (raw ?? {}) as Raw
  const shownId = typeof given['id'] === 'string' ? given['id'].slice(0, 100) : null
  const sent: Sent = {
    id: idShape.safeParse(shownId).data ?? null,
    shownId,
    fingerprint: fingerprintOf(given),
  }
  const shaped = inTodaysShape(given)
  if (!shaped) return { ...sent, isNewer: true }
  const parsed = operationSchema.safeParse(shaped)
  if (parsed.success) return { ...sent, operation: parsed.data }
  const errors = parsed.error.issues.map((issue): FieldFault => ({
    pointer: ['#', ...issue.path.map(String)].join('/'),
    detail: issue.message,
  }))
  const command = typeof given['command'] === 'string' ? given['command'].slice(0, 60) : ''
  return {
    ...sent,
    fault: new Problem('invalid-request', detailOf(command, errors), { errors }),
    command: storableText(command),
    payload: storable(given['payload'] ?? null),
  }
}

function detailOf(command: string, errors: readonly FieldFault[]): string {
  if (!Object.hasOwn(payloads, command))
    return `There is no operation “${command}”: the app may be older or newer than the office.`
  return errors.map(({ pointer, detail }) => `${pointer} ${detail}`).join('; ')
}

/** Over what was sent, not over what it was read as: an office that reads it differently still knows it again. */
function fingerprintOf({ command, inspectionId, payload }: Raw): string {
  return createHash('sha256')
    .update(JSON.stringify([command, inspectionId, payload], inOrder))
    .digest('base64url')
}

function inOrder(_key: string, value: unknown): unknown {
  if (value === null || typeof value !== 'object' || Array.isArray(value)) return value
  return Object.fromEntries(Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1)))
}

/** A value as jsonb can keep it: no zero bytes, no half characters, nothing that JSON does not know. */
export function storable(value: unknown): unknown {
  return JSON.parse(
    JSON.stringify(value, (_key, each: unknown) => {
      if (typeof each === 'string') return storableText(each)
      if (each === null || typeof each !== 'object' || Array.isArray(each)) return each
      return Object.fromEntries(Object.entries(each).map(([name, inner]) => [storableText(name), inner]))
    }),
  )
}
