import { z } from 'zod'
import { type FieldFault, Problem } from '../errors.ts'
import { type FieldOperation, operationSchema, payloads } from './operation-schema.ts'

/** An operation that no schema fits, and what of it can be kept. */
export interface Unreadable {
  fault: Problem
  /** Null where it is no id that can be stored under. */
  id: string | null
  shownId: string | null
  command: string
  payload: unknown
}

const idShape = z.uuid()

export function readOperation(raw: unknown): { operation: FieldOperation } | Unreadable {
  const parsed = operationSchema.safeParse(raw)
  if (parsed.success) return { operation: parsed.data }
  const given = (raw ?? {}) as Record<string, unknown>
  const errors = parsed.error.issues.map((issue): FieldFault => ({
    pointer: ['#', ...issue.path.map(String)].join('/'),
    detail: issue.message,
  }))
  const shownId = typeof given['id'] === 'string' ? given['id'].slice(0, 100) : null
  const command = typeof given['command'] === 'string' ? given['command'].slice(0, 60) : ''
  return {
    fault: new Problem('invalid-request', detailOf(command, errors), { errors }),
    id: idShape.safeParse(shownId).data ?? null,
    shownId,
    command: storableText(command),
    payload: storable(given['payload'] ?? null),
  }
}

function detailOf(command: string, errors: readonly FieldFault[]): string {
  if (!(command in payloads))
    return `There is no operation “${command}”: the app may be older or newer than the office.`
  return errors.map(({ pointer, detail }) => `${pointer} ${detail}`).join('; ')
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

/** Node writes half of a character as U+FFFD. */
const storableText = (text: string) => Buffer.from(text.replaceAll('\0', '\uFFFD')).toString()
