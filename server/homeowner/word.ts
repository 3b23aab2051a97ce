import { z } from 'zod'
import { type Day, parseDay } from '../../trade/dates.ts'
import type { Db } from '../db.ts'
import { idSchema } from '../ids.ts'
import { ACTS } from './acts.ts'
import type { Before, Said } from './answer-store.ts'
import { type atHome, FormFault } from './entry.ts'
import type { findFollowUp } from './store.ts'
import type { ThanksFor } from './words.ts'

const short = (length: number) => z.string().trim().max(length).default('')

/** What a form about one thing may carry; which of it counts follows from `act`. */
export const answerBody = z.object({
  form: z.string().max(100).optional(),
  /** The answer's own id, made with the form: sent twice, it is one answer. */
  id: idSchema,
  act: z.enum(ACTS),
  manufacturedOn: short(20),
  replacedOn: short(20),
  same: short(10),
  on: short(20),
  indicator: short(10),
  by: short(200),
  length: short(20),
  reason: short(300),
  name: short(120),
  understood: short(10),
})
export type AnswerBody = z.output<typeof answerBody>

export type AtHome = ReturnType<typeof atHome>
export type FollowUp = NonNullable<Awaited<ReturnType<typeof findFollowUp>>>

/** An answer that was understood: what is kept of it, and what it changes. */
export interface Word {
  thanks: ThanksFor
  said: Omit<Said, 'thanks'>
  before?: Before
  write: (tx: Db) => Promise<void>
}
/** Said of something that has ended since the page was opened. */
export const ALREADY = 'already'

/** A day that has come at the home. */
export function dayFrom({ words, ctx, home }: AtHome, text: string): Day {
  const day = parseDay(text)
  if (!day) throw new FormFault(words.errors.noDay)
  if (day > ctx.today(home.timeZone)) throw new FormFault(words.errors.future)
  return day
}
