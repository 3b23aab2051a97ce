import { z } from 'zod'
import { textSchema } from '../fields.ts'
import { idSchema } from '../ids.ts'
import { dayIn } from './schema.ts'

/** What may have hurt surge protectors, and where: a town, a street of it, or one home. */
const event = {
  kind: z.enum(['storm', 'utility']),
  on: dayIn,
  city: textSchema(100).optional(),
  street: textSchema(100).optional().describe('Part of the street, in that town'),
  propertyId: idSchema.optional(),
}
type Where = { city?: string | undefined; street?: string | undefined; propertyId?: string | undefined }
const hasPlace = ({ city, propertyId }: Where) => Boolean(city) !== Boolean(propertyId)
const noPlace = { path: ['city'], error: 'say in which town, or for which home' }
const hasTown = ({ city, street }: Where) => !street || Boolean(city)
const noTown = { path: ['street'], error: 'a street needs its town' }

export const surgePreviewBody = z.strictObject(event).refine(hasPlace, noPlace).refine(hasTown, noTown)
export type SurgePreviewBody = z.output<typeof surgePreviewBody>

export const surgeEventBody = z
  .strictObject({
    ...event,
    /** The number of letters that the preview said, said back where there are many. */
    confirmMessages: z.number().int().min(0).max(100_000_000).optional(),
  })
  .refine(hasPlace, noPlace)
  .refine(hasTown, noTown)
export type SurgeEventBody = z.output<typeof surgeEventBody>

export const surgePreview = z.object({
  /** All homes there. */
  homesThere: z.number(),
  /** Those with a protector to be looked at. */
  homes: z.number(),
  protectors: z.number(),
  /** Of these, asked about after an earlier event and not looked at since: they are asked about this one instead. */
  moved: z.number(),
  letters: z.number(),
  /** Doing it needs this number said back; null = nothing out of the ordinary. */
  confirm: z.number().nullable(),
})
export type SurgePreview = z.output<typeof surgePreview>

/** `opened`: protectors that are to be looked at because of it. */
export const surgeEventResult = z.object({ opened: z.number() })
