import type { z } from 'zod'
import { findItem } from '../../trade/checklist/checklist.ts'
import { isEquipmentSubject, isSpaceSubject, type Item } from '../../trade/checklist/item.ts'
import { type FieldFault, invalid } from '../errors.ts'
import { fieldsSchema } from '../fields.ts'
import type { LineRef } from './answer-store.ts'
import type { HomeRecord } from './home-store.ts'

/** The item of a line, once it is sure that the line can exist at this home. */
export function checkLine(line: LineRef, home: HomeRecord): Item {
  const item = checkItem(line.itemId)
  const fault = subjectFault(item, line, home)
  if (fault) throw invalid({ pointer: '#/subjectId', detail: fault })
  return item
}

export function checkItem(itemId: string): Item {
  const item = findItem(itemId)
  if (!item) throw invalid({ pointer: '#/itemId', detail: `the checklist has no item “${itemId}”` })
  return item
}

function subjectFault(item: Item, { subjectKind, subjectId }: LineRef, home: HomeRecord): string | null {
  if (subjectKind === 'home') return subjectId === null ? null : 'a line about the home names no subject'
  if (subjectId === null) return `name the ${subjectKind}`
  if (subjectKind === 'space') {
    if (!isSpaceSubject(item.subject)) return `“${item.title}” is not about a room`
    return home.spaces.some((space) => space.id === subjectId) ? null : 'this home has no such room'
  }
  if (!isEquipmentSubject(item.subject)) return `“${item.title}” is not about equipment`
  const found = home.equipment.find((each) => each.id === subjectId)
  if (!found) return 'this home has no such equipment in use'
  return found.kind === item.subject.equipment
    ? null
    : `“${item.title}” is not about equipment of the kind ${found.kind}`
}

const schemas = new Map<string, z.ZodType<Record<string, unknown>>>()

/** Readings as the item asks for them. */
export function checkReadings(item: Item, readings: Record<string, unknown>): Record<string, unknown> {
  let schema = schemas.get(item.id)
  if (!schema) schemas.set(item.id, (schema = fieldsSchema(item.readings)))
  return checkFields(schema, readings, '#/readings')
}

/** Values by a list of fields; a null is taken for a value that is not known, and left out. */
export function checkFields(
  schema: z.ZodType<Record<string, unknown>>,
  values: Record<string, unknown>,
  pointer: string,
): Record<string, unknown> {
  const known = Object.fromEntries(Object.entries(values).filter(([, value]) => value !== null))
  const parsed = schema.safeParse(known)
  if (parsed.success) return parsed.data
  throw invalid(...parsed.error.issues.map((issue): FieldFault => faultOf(issue, pointer)))
}

function faultOf(issue: z.core.$ZodIssue, pointer: string): FieldFault {
  return { pointer: [pointer, ...issue.path.map(String)].join('/'), detail: issue.message }
}
