import { z } from 'zod'
import { textSchema } from '../fields.ts'
import { idSchema } from '../ids.ts'
import { instantSchema } from '../fields.ts'
import { itemIdSchema } from '../inspections/record-schema.ts'

// Routes (a technician reaches the photos of their own inspections; the office all of them):
//   PUT    /inspections/:id/photos/:photoId   the picture as the body (image/jpeg, image/png, image/webp), at most 12 MB;
//                                             what it belongs to in the query; the same id again changes nothing
//   GET    /photos/:id                        what is known of it
//   GET    /photos/:id/picture                the picture, JPEG, at most 2048 px
//   GET    /photos/:id/thumbnail              the same at most 320 px
//   PATCH  /photos/:id                        caption, annotations, what it belongs to; not once a report was issued
//   DELETE /photos/:id                        not once a report was issued

export const MAX_PHOTO_BYTES = 12 * 1024 * 1024
const MAX_MARKS = 40

export const putPhotoParams = z.strictObject({ id: idSchema, photoId: idSchema })
export const putPhotoQuery = z.strictObject({
  itemId: itemIdSchema.optional(),
  subjectId: idSchema.optional(),
  findingId: idSchema.optional(),
  caption: textSchema(500).default(''),
  takenAt: instantSchema.optional(),
})
export type PutPhotoQuery = z.output<typeof putPhotoQuery>

/** Places are fractions of the picture's width and height, from the top left: they hold at every size. The marks are those
 *  that trade/inspection/photo-marks.ts draws. */
const fraction = z.number().min(0).max(1)
const point = z.strictObject({ x: fraction, y: fraction })
export const annotationSchema = z.discriminatedUnion('shape', [
  z.strictObject({ shape: z.literal('arrow'), from: point, to: point }),
  z.strictObject({ shape: z.literal('circle'), centre: point, radius: fraction }),
  z.strictObject({ shape: z.literal('text'), at: point, text: textSchema(120, 1) }),
])

const described = {
  caption: textSchema(500),
  annotations: z.array(annotationSchema).max(MAX_MARKS),
}

/** What a device says of a photo, which may not have arrived yet. */
export const describePhotoBody = z
  .strictObject({ photoId: idSchema, ...z.strictObject(described).partial().shape })
  .refine(({ caption, annotations }) => caption !== undefined || annotations !== undefined, {
    error: 'say the caption or the annotations',
  })
export type DescribePhotoBody = z.output<typeof describePhotoBody>

export const changePhotoBody = z
  .strictObject({
    ...described,
    findingId: idSchema.nullable(),
    itemId: itemIdSchema.nullable(),
    subjectId: idSchema.nullable(),
  })
  .partial()
  .refine((changes) => Object.keys(changes).length > 0, { error: 'name at least one field to change' })
export type ChangePhotoBody = z.output<typeof changePhotoBody>
