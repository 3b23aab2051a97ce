import { z } from 'zod'
import { instantOut, textSchema } from '../fields.ts'
import { idSchema } from '../ids.ts'
import { visitKindSchema, visitStateSchema } from '../visits/schema.ts'

/** Names, addresses, phone numbers in any writing, ids; typing errors are forgiven. */
export const searchQuery = z.strictObject({
  q: textSchema(200, 1),
  limit: z.coerce.number().int().min(1).max(20).default(8),
})
export type SearchQuery = z.output<typeof searchQuery>

/** Best first. A technician finds only their own visits and the homes they go to. */
export const searchView = z.object({
  customers: z.array(
    z.object({
      id: idSchema,
      name: z.string(),
      email: z.string().nullable(),
      phone: z.string().nullable(),
      archived: z.boolean(),
    }),
  ),
  properties: z.array(
    z.object({
      id: idSchema,
      line1: z.string(),
      line2: z.string(),
      city: z.string(),
      postcode: z.string(),
      contactName: z.string().nullable(),
      archived: z.boolean(),
    }),
  ),
  visits: z.array(
    z.object({
      id: idSchema,
      kind: visitKindSchema,
      state: visitStateSchema,
      startsAt: instantOut,
      timeZone: z.string(),
      line1: z.string(),
      customerName: z.string(),
      technicianName: z.string(),
    }),
  ),
})
export type SearchView = z.output<typeof searchView>
