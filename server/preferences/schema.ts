import { z } from 'zod'
import { TOPIC_IDS } from '../../trade/follow-ups/topics.ts'

// Routes, for the office: what a customer wants to be written about, as they chose it or said it on the phone.
//   GET /customers/:id/preferences
//   PUT /customers/:id/preferences   { wishes }: those left out stay as they are

const choice = z.object({
  category: z.string(),
  title: z.string(),
  allowed: z.boolean(),
  /** Null = nobody has said anything; the default holds. */
  said: z
    .object({
      source: z.enum(['unsubscribe', 'preferences-page', 'office']),
      /** Who of the office wrote it down. */
      by: z.string().nullable(),
      at: z.string(),
    })
    .nullable(),
})
export type PreferenceChoice = z.output<typeof choice>

export const preferencesView = z.object({
  reminder: choice,
  tips: choice,
  /** What the reminders may be about; they count only while there are reminders. */
  topics: z.array(choice),
})
export type PreferencesView = z.output<typeof preferencesView>

export const preferencesBody = z.strictObject({
  wishes: z.partialRecord(z.enum(['reminder', 'tips', ...TOPIC_IDS]), z.boolean()),
})
export type PreferencesBody = z.output<typeof preferencesBody>
