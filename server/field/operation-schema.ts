import { z } from 'zod'
import { EQUIPMENT_FIELDS } from '../../trade/equipment.ts'
import { OPERATION_VERSION } from '../../trade/inspection/operation-version.ts'
import { REVIEW_OUTCOMES } from '../../trade/inspection/finding-states.ts'
import { SPACE_KINDS } from '../../trade/property.ts'
import { daySchema, keysOf, textSchema } from '../fields.ts'
import { idSchema } from '../ids.ts'
import { instantSchema, openJson } from '../fields.ts'
import { itemIdSchema, lineRef, severitySchema } from '../inspections/record-schema.ts'
import { answerBody } from '../inspections/schema.ts'
import { describePhotoBody } from '../photos/schema.ts'

// POST /field/operations: what a technician did on a device, one small change each, applied once whatever is repeated.

const equipmentKind = z.enum(keysOf(EQUIPMENT_FIELDS))
const spaceKind = z.enum(keysOf(SPACE_KINDS))
const outcome = z.enum(keysOf(REVIEW_OUTCOMES))

/** Text that was shown and signed. `statementHash` is the SHA-256 of the statement in UTF-8, hexadecimal. */
export const signatureSchema = z.strictObject({
  name: textSchema(120, 1),
  at: instantSchema,
  // Not trimmed: the hash is over exactly what was shown.
  statement: z.string().min(1).max(4000),
  statementHash: z.string().regex(/^[0-9a-f]{64}$/, { error: 'expected a SHA-256 in hexadecimal' }),
  /** The strokes as SVG path data in the box of trade/inspection/signature.ts; left out, the name was typed only. */
  drawing: z
    .string()
    .min(1)
    .max(100_000)
    .regex(/^[ML0-9 .]+$/, { error: 'expected strokes as SVG path data of M and L' })
    .optional(),
})
export type Signature = z.output<typeof signatureSchema>

const spaceFields = {
  kind: spaceKind,
  name: textSchema(80, 1),
  level: z.number().int().min(-3).max(20),
  areaSqFt: z.number().int().min(0).max(100_000).nullable(),
  hasSink: z.boolean().nullable(),
  hasTubOrShower: z.boolean().nullable(),
  hasFuelBurner: z.boolean().nullable(),
  sleepingArea: textSchema(80).nullable(),
}
const equipmentPlace = {
  label: textSchema(120),
  spaceId: idSchema.nullable(),
  parentId: idSchema.nullable(),
  manufacturedOn: daySchema.nullable(),
  installedOn: daySchema.nullable(),
}

export const payloads = {
  'start-inspection': z.strictObject({ visitId: idSchema }),
  'answer-item': answerBody,
  'clear-answer': z.strictObject(lineRef),
  'save-finding': z.strictObject({
    findingId: idSchema,
    itemId: itemIdSchema,
    spaceId: idSchema.nullable().default(null),
    equipmentId: idSchema.nullable().default(null),
    severity: severitySchema,
    /** What the device's rules proposed; the server judges again and keeps its own. */
    proposedSeverity: severitySchema.nullable().default(null),
    loweredReason: textSchema(1000).nullable().default(null),
    text: textSchema(4000).default(''),
    correction: textSchema(4000).default(''),
    makeSafe: textSchema(2000).nullable().default(null),
    rule: z.string().max(120).nullable().default(null),
    watchUntil: daySchema.nullable().default(null),
  }),
  'remove-finding': z.strictObject({ findingId: idSchema }),
  'refuse-make-safe': z.strictObject({ findingId: idSchema, signature: signatureSchema }),
  'review-carried': z.strictObject({ findingId: idSchema, outcome, note: textSchema(2000).default('') }),
  'add-space': z.strictObject({
    space: z.strictObject({ id: idSchema, ...spaceFields }).partial({
      areaSqFt: true,
      hasSink: true,
      hasTubOrShower: true,
      hasFuelBurner: true,
      sleepingArea: true,
    }),
  }),
  'change-space': z.strictObject({ spaceId: idSchema, changes: z.strictObject(spaceFields).partial() }),
  'add-equipment': z.strictObject({
    equipment: z
      .strictObject({ id: idSchema, kind: equipmentKind, ...equipmentPlace, details: openJson })
      .partial({
        label: true,
        spaceId: true,
        parentId: true,
        manufacturedOn: true,
        installedOn: true,
        details: true,
      }),
  }),
  /** Only the fields named change; a detail of null is unknown again. */
  'change-equipment': z.strictObject({
    equipmentId: idSchema,
    changes: z.strictObject({ ...equipmentPlace, details: openJson }).partial(),
  }),
  'retire-equipment': z.strictObject({
    equipmentId: idSchema,
    retiredOn: daySchema,
    reason: textSchema(500).default(''),
    replacedById: idSchema.nullable().default(null),
  }),
  /** Work that was offered for these findings and is not wanted now. */
  'decline-work': z.strictObject({
    findingIds: z.array(idSchema).min(1).max(100),
    signature: signatureSchema,
  }),
  'describe-photo': describePhotoBody,
  'remove-photo': z.strictObject({ photoId: idSchema }),
  'note-inspection': z.strictObject({ note: textSchema(8000) }),
  /** Of two that were recorded for the same thing: what is shown stays, or the other one takes its place. */
  'choose-recorded': z.strictObject({ alternativeId: idSchema, choice: z.enum(['keep', 'use']) }),
  'complete-inspection': z.strictObject({}),
} as const
export type Command = keyof typeof payloads
export type PayloadOf<Name extends Command> = z.output<(typeof payloads)[Name]>

const envelope = {
  /** Version of the shape; left out by the first apps. Older ones are read as today's, newer ones wait. */
  v: z.literal(OPERATION_VERSION).optional(),
  /** Made by the device: the same id again is the same act. */
  id: z.uuidv7({ error: 'expected a UUIDv7' }),
  /** The device's clock; kept, never trusted for the order. */
  at: instantSchema,
  inspectionId: idSchema,
  /** Version of the answer, finding, space or equipment that the person saw; absent or null: none was there. */
  base: z.number().int().min(0).nullish(),
}
const as = <Name extends Command>(command: Name) =>
  z.strictObject({ ...envelope, command: z.literal(command), payload: payloads[command] })

export const operationSchema = z.discriminatedUnion('command', [
  as('start-inspection'),
  as('answer-item'),
  as('clear-answer'),
  as('save-finding'),
  as('remove-finding'),
  as('refuse-make-safe'),
  as('review-carried'),
  as('add-space'),
  as('change-space'),
  as('add-equipment'),
  as('change-equipment'),
  as('retire-equipment'),
  as('decline-work'),
  as('describe-photo'),
  as('remove-photo'),
  as('note-inspection'),
  as('choose-recorded'),
  as('complete-inspection'),
])
export type FieldOperation = z.output<typeof operationSchema>
/** As a client writes one: what has a default may be left out. */
export type FieldOperationInput = z.input<typeof operationSchema>

/** Each operation is checked on its own, so that one that is wrong does not hold back the others. */
export const operationsBody = z.strictObject({
  deviceId: idSchema,
  operations: z
    .array(z.union([operationSchema, openJson]))
    .min(1)
    .max(200),
})
export type OperationsBody = z.output<typeof operationsBody>

export const operationOutcome = z.object({
  /** As sent; null where it had none that could be read. */
  id: z.string().nullable(),
  /** applied; refused: it will never be applied, the problem says why; later: keep it and send it again. */
  outcome: z.enum(['applied', 'refused', 'later']),
  /** It was received before: this is what was answered then. */
  replayed: z.boolean(),
  /** RFC 9457: type, title, status, detail, and what the problem adds (errors, open, current). */
  problem: openJson.nullable(),
  /** What this operation replaced without having seen it: { kind, record }. Offer it to the person. */
  superseded: openJson.nullable(),
  /** Version of the record after this operation, to be sent as `base` of the next. */
  version: z.number().nullable(),
})
export type OperationOutcome = z.output<typeof operationOutcome>
export const operationsResult = z.object({ serverTime: z.string(), outcomes: z.array(operationOutcome) })
export type OperationsResult = z.output<typeof operationsResult>
