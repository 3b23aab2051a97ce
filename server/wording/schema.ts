import { z } from 'zod'
import { instantOut, textSchema } from '../fields.ts'
import { idSchema } from '../ids.ts'
import { MESSAGE_KINDS, type MessageKind } from '../messages/categories.ts'

// Routes; reading and looking for the office, changing and testing for the admin:
//   GET  /wordings                                       every letter there is, and whose words hold
//   GET  /wordings/:kind/:language                       its words, what it may tell, and its versions
//   GET  /wordings/:kind/:language/versions/:version     the words of an earlier version; 0 = as it came
//   POST /wordings/:kind/:language/preview               how words would look, saved or not; all faults at once
//   PUT  /wordings/:kind/:language                       saves a new version
//   POST /wordings/:kind/:language/revert                a new version from an earlier one, or back to how it came
//   POST /wordings/:kind/:language/test                  sends it to whoever asks

const kinds = Object.keys(MESSAGE_KINDS) as [MessageKind, ...MessageKind[]]
const letter = { kind: z.enum(kinds), language: z.enum(['en', 'es'], { error: 'expected en or es' }) }
export const letterParams = z.strictObject(letter)
export const versionParams = z.strictObject({ ...letter, version: z.coerce.number().int().min(0).max(1e9) })

/** Lengths are judged with the words, so that all faults come in one answer. */
const partSchema = z
  .string({ error: 'expected text' })
  .max(500_000, { error: 'expected 500000 letters or fewer' })
  .refine((value) => !value.includes('\0'), { error: 'contains a zero byte, which cannot be stored' })
  .transform((value) => value.replace(/\r\n?/g, '\n'))
const partsIn = { subject: partSchema, preview: partSchema, body: partSchema }
const partsOut = z.object({ subject: z.string(), preview: z.string(), body: z.string() })

const noteSchema = textSchema(300).default('').describe('Why it is changed')
export const saveBody = z.strictObject({ ...partsIn, note: noteSchema })
export const revertBody = z.strictObject({
  to: z.number().int().min(0).describe('An earlier version; 0 = the wording that came with the program'),
  note: noteSchema,
})
export const showBody = z.strictObject({
  words: z
    .strictObject(partsIn)
    .nullable()
    .default(null)
    .describe('Words that are not saved; null = those that hold'),
  like: idSchema
    .nullable()
    .default(null)
    .describe('A message of that kind, whose data are shown; null = made-up data'),
})
export type SaveBody = z.output<typeof saveBody>
export type RevertBody = z.output<typeof revertBody>
export type ShowBody = z.output<typeof showBody>

const holding = {
  kind: z.enum(kinds),
  language: z.enum(['en', 'es']),
  categoryTitle: z.string(),
  /** 0 while nobody ever changed it. */
  version: z.number(),
  /** The company's own words; else those that came with the program. */
  isOwn: z.boolean(),
  changedAt: instantOut.nullable(),
  changedBy: z.string().nullable(),
  note: z.string(),
  /** Letters that had to be written in the built-in words since, because these could not be. */
  fallbacks: z.number(),
}
export const wordingList = z.array(z.object(holding))
export type WordingSummary = z.output<typeof wordingList>[number]

const fieldView = z.object({
  name: z.string(),
  is: z.enum(['words', 'yes-no', 'page', 'list']),
  about: z.string(),
  mayBeEmpty: z.boolean(),
  example: z.string(),
  /** Known inside {{#each …}} of this list only; null = anywhere. */
  within: z.string().nullable(),
})
export const wordingView = z.object({
  ...holding,
  words: partsOut,
  fields: z.array(fieldView),
  blocks: z.array(z.object({ name: z.string(), about: z.string(), example: z.string() })),
  /** Newest first; the wording that came with the program is version 0. */
  versions: z.array(
    z.object({
      version: z.number(),
      at: instantOut.nullable(),
      by: z.string().nullable(),
      note: z.string(),
      isOwn: z.boolean(),
    }),
  ),
})
export type WordingView = z.output<typeof wordingView>

export const versionView = z.object({ version: z.number(), words: partsOut })
export type WordingVersionView = z.output<typeof versionView>
export const shownView = z.object({ subject: z.string(), html: z.string(), text: z.string() })
export type ShownLetter = z.output<typeof shownView>
export const testView = z.object({ messageId: idSchema, to: z.string() })
export type TestView = z.output<typeof testView>
