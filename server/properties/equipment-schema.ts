import { z } from 'zod'
import { EQUIPMENT_FIELDS, EQUIPMENT_KINDS, type EquipmentKind } from '../../trade/equipment.ts'
import { dayOut, daySchema, fieldsSchema, textSchema } from '../fields.ts'
import { idSchema } from '../ids.ts'

const KINDS = Object.keys(EQUIPMENT_KINDS) as [EquipmentKind, ...EquipmentKind[]]
export const equipmentKindSchema = z.enum(KINDS, { error: `expected one of ${KINDS.join(', ')}` })

/** Details by kind, as trade/equipment.ts lists them. */
export const detailsSchemas = Object.fromEntries(
  KINDS.map((kind) => [kind, fieldsSchema(EQUIPMENT_FIELDS[kind])]),
) as Record<EquipmentKind, ReturnType<typeof fieldsSchema>>

const fields = {
  label: textSchema(120),
  spaceId: idSchema.nullable(),
  /** A circuit's panel; a sub-panel's feeding circuit. */
  parentId: idSchema.nullable(),
  manufacturedOn: daySchema.nullable(),
  installedOn: daySchema.nullable(),
  lastCheckedOn: daySchema.nullable(),
}

const byKind = (shape: (kind: EquipmentKind) => z.ZodRawShape) => {
  const each = KINDS.map((kind) => z.strictObject({ kind: z.literal(kind), ...shape(kind) }))
  return z.discriminatedUnion(
    'kind',
    each as unknown as [z.ZodObject<{ kind: z.ZodLiteral<EquipmentKind> }>],
    {
      error: `expected a kind: ${KINDS.join(', ')}`,
    },
  )
}

export interface NewEquipmentBody {
  id?: string | undefined
  kind: EquipmentKind
  label: string
  spaceId: string | null
  parentId: string | null
  details: Record<string, unknown>
  manufacturedOn: string | null
  installedOn: string | null
  lastCheckedOn: string | null
}
/** An installed thing; without a label it is called by its kind. */
export const newEquipmentBody = byKind((kind) => ({
  id: idSchema.optional(),
  label: fields.label.default(''),
  spaceId: fields.spaceId.default(null),
  parentId: fields.parentId.default(null),
  details: detailsSchemas[kind].default({}),
  manufacturedOn: fields.manufacturedOn.default(null),
  installedOn: fields.installedOn.default(null),
  lastCheckedOn: fields.lastCheckedOn.default(null),
})) as unknown as z.ZodType<NewEquipmentBody, Partial<NewEquipmentBody> & { kind: EquipmentKind }>

export type ChangeEquipmentBody = Partial<Omit<NewEquipmentBody, 'id' | 'kind'>> & { kind: EquipmentKind }
/** What is left out stays as it is; `details` are given whole. The kind says how they are read and cannot change. */
export const changeEquipmentBody = byKind((kind) => ({
  label: fields.label.optional(),
  spaceId: fields.spaceId.optional(),
  parentId: fields.parentId.optional(),
  details: detailsSchemas[kind].optional(),
  manufacturedOn: fields.manufacturedOn.optional(),
  installedOn: fields.installedOn.optional(),
  lastCheckedOn: fields.lastCheckedOn.optional(),
})) as unknown as z.ZodType<ChangeEquipmentBody, ChangeEquipmentBody>

export const retireEquipmentBody = z.strictObject({
  reason: textSchema(300, 1),
  /** Left out: today, in the property's zone. */
  retiredOn: daySchema.optional(),
})
export type RetireEquipmentBody = z.output<typeof retireEquipmentBody>

/** The new thing takes the place of the old: same kind, space and parent; what is left out of `details` is unknown. */
export const replaceEquipmentBody = z.strictObject({
  id: idSchema.optional(),
  /** Left out: today, in the property's zone. */
  replacedOn: daySchema.optional(),
  label: textSchema(120).optional(),
  details: z.record(z.string(), z.unknown()).default({}),
  manufacturedOn: daySchema.nullable().default(null),
  reason: textSchema(300).default('replaced'),
})
export type ReplaceEquipmentBody = z.output<typeof replaceEquipmentBody>

export const equipmentView = z.object({
  id: idSchema,
  propertyId: idSchema,
  spaceId: idSchema.nullable(),
  parentId: idSchema.nullable(),
  kind: equipmentKindSchema,
  label: z.string(),
  details: z.record(z.string(), z.unknown()),
  manufacturedOn: dayOut.nullable(),
  installedOn: dayOut.nullable(),
  replaceBy: dayOut.nullable(),
  replaceByAssumed: z.boolean(),
  lastCheckedOn: dayOut.nullable(),
  nextCheckOn: dayOut.nullable(),
  retiredOn: dayOut.nullable(),
  retiredReason: z.string().nullable(),
  replacedById: idSchema.nullable(),
  version: z.number().int(),
})
export type EquipmentView = z.output<typeof equipmentView>

export const replacedView = z.object({ retired: equipmentView, replacement: equipmentView })
export type ReplacedView = z.output<typeof replacedView>
