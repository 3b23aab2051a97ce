import { z } from 'zod'
import { idSchema } from '../ids.ts'
import { photoView } from '../inspections/record-schema.ts'
import { MAX_PHOTO_BYTES } from './schema.ts'

// A picture in parts, by the IETF's draft "Resumable Uploads for HTTP" (draft-ietf-httpbis-resumable-upload-12), as far
// as one client that names its own pictures needs it. The address is known before, so nothing has to be looked up after
// an answer was lost:
//   PUT    /inspections/:id/photos/:photoId/upload   begins it with the first part; query and type as of the picture itself.
//                                                    Begun already, it says where it stands
//   HEAD   or GET, the same address                  where it stands
//   PATCH  the same address                          the next part, at Upload-Offset; the last one answers with the photo
//   DELETE the same address                          gives it up

/** One part: small enough that a cut costs little, large enough that a slow link is not all waiting for answers. */
export const MAX_PART_BYTES = 1024 * 1024

const whole = z.coerce.number({ error: 'expected a number of bytes' }).int().min(0)
/** Booleans of RFC 9651. */
const complete = z.enum(['?0', '?1'], { error: 'expected ?0 or ?1' })
/** RFC 9530, of which SHA-256 is enough here. */
const digest = z
  .string()
  .regex(/^sha-256=:[A-Za-z0-9+/]{43}=:$/, { error: 'expected sha-256=:…:' })
  .transform((text) => Buffer.from(text.slice(9, -1), 'base64'))

export const beginUploadHeaders = z.object({
  'upload-complete': complete.describe('?0: more parts follow'),
  'upload-length': whole.min(1).describe('Bytes of the whole picture'),
  'repr-digest': digest.optional().describe('SHA-256 of the whole picture: sha-256=:…:'),
})
export type BeginUploadHeaders = z.output<typeof beginUploadHeaders>

export const appendHeaders = z.object({
  'upload-offset': whole.max(MAX_PHOTO_BYTES).describe('Where this part belongs'),
  'upload-complete': complete.describe('?1: this is the last part'),
})
export type AppendHeaders = z.output<typeof appendHeaders>

/** Also in the answer's headers, as the draft has them: Upload-Offset, Upload-Length, Upload-Complete. */
export const uploadView = z.object({
  photoId: idSchema,
  complete: z.boolean(),
  /** How many bytes are here, of how many; null once the photo is there. */
  offset: z.number().nullable(),
  length: z.number().nullable(),
  photo: photoView.nullable(),
})
export type UploadView = z.output<typeof uploadView>
