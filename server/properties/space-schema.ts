import { z } from 'zod'
import { SPACE_KINDS, type SpaceKind } from '../../trade/property.ts'
import { dayOut, textSchema } from '../fields.ts'
import { idSchema } from '../ids.ts'

export const spaceKindSchema = z.enum(Object.keys(SPACE_KINDS) as [SpaceKind, ...SpaceKind[]], {
  error: `expected one of ${Object.keys(SPACE_KINDS).join(', ')}`,
})

const fields = {
  kind: spaceKindSchema,
  name: textSchema(100),
  /** Storeys from the ground floor: 0; the basement is -1. */
  level: z.number().int().min(-5).max(20),
  areaSqFt: z.number().int().min(1).max(100_000).nullable(),
  hasSink: z.boolean().nullable(),
  hasTubOrShower: z.boolean().nullable(),
  hasFuelBurner: z.boolean().nullable(),
  sleepingArea: textSchema(60).nullable(),
  position: z.number().int().min(0).max(10_000),
}

/** Without a name it is called by its kind. */
export const newSpaceBody = z.strictObject({
  id: idSchema.optional(),
  kind: fields.kind,
  name: fields.name.default(''),
  level: fields.level.default(0),
  areaSqFt: fields.areaSqFt.default(null),
  hasSink: fields.hasSink.default(null),
  hasTubOrShower: fields.hasTubOrShower.default(null),
  hasFuelBurner: fields.hasFuelBurner.default(null),
  sleepingArea: fields.sleepingArea.default(null),
  position: fields.position.optional(),
})
export type NewSpaceBody = z.output<typeof newSpaceBody>

export const changeSpaceBody = z.strictObject(fields).partial()
export type ChangeSpaceBody = z.output<typeof changeSpaceBody>

export const spaceView = z.object({
  id: idSchema,
  propertyId: idSchema,
  kind: spaceKindSchema,
  name: z.string(),
  level: z.number().int(),
  areaSqFt: z.number().int().nullable(),
  hasSink: z.boolean().nullable(),
  hasTubOrShower: z.boolean().nullable(),
  hasFuelBurner: z.boolean().nullable(),
  sleepingArea: z.string().nullable(),
  position: z.number().int(),
  retiredOn: dayOut.nullable(),
  version: z.number().int(),
})
export type SpaceView = z.output<typeof spaceView>

/** `removed`: it was not used anywhere and is gone; `retired`: something refers to it, so it stays in the history. */
export const spaceEndView = z.object({ outcome: z.enum(['removed', 'retired']) })
