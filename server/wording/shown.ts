import type { Language } from '../../trade/day-in-words.ts'
import type { Ctx } from '../ctx.ts'
import { invalid, Problem } from '../errors.ts'
import { newId } from '../ids.ts'
import { MESSAGE_KINDS, type MessageKind } from '../messages/categories.ts'
import { commonFacts, type CompanyOfLetter, gatherFacts } from '../messages/facts.ts'
import type { CommonFacts, LetterFacts } from '../messages/render/facts.ts'
import { sampleFacts } from '../messages/sample.ts'
import { findLike } from './store.ts'

/** Facts of every letter of a kind, whose links lead nowhere: nobody's page is opened from a letter that is only shown. */
export function shownCommon(
  ctx: Pick<Ctx, 'env'>,
  kind: MessageKind,
  company: CompanyOfLetter,
  toName = 'Robin Vale',
): CommonFacts {
  const nobody = { id: newId(), customerId: newId(), category: MESSAGE_KINDS[kind], toName }
  return commonFacts(ctx, nobody, company)
}

/**
 * What a letter is shown with: the made-up home, or what is known at this moment of the people of a stored message.
 * @param like id of a message of that kind; null: made up
 */
export async function shownFacts(
  ctx: Ctx,
  kind: MessageKind,
  language: Language,
  company: CompanyOfLetter,
  like: string | null,
): Promise<LetterFacts> {
  if (like === null) return sampleFacts(shownCommon(ctx, kind, company), kind, language)
  const message = await findLike(ctx.db, like)
  if (!message || message.kind !== kind || isTest(message.context)) {
    throw invalid({
      pointer: '#/like',
      detail: 'there is no such letter of this kind; choose one of the list',
    })
  }
  // A letter to staff carries a way in, which nobody else may see.
  if (!message.customerId) {
    throw invalid({ pointer: '#/like', detail: 'letters to staff are shown with made-up data only' })
  }
  const context = message.context as Record<string, unknown>
  const asked = { ...message, kind, category: MESSAGE_KINDS[kind], language, context }
  const facts = (await gatherFacts(ctx, [asked], company)).get(message.id)!
  if (facts instanceof Error) {
    throw new Problem('wrong-state', `${facts.message} Choose another letter, or the made-up home.`)
  }
  return { ...facts, ...shownCommon(ctx, kind, company, message.toName) }
}

/** A letter that somebody of the office has sent to themselves. */
export interface TestContext {
  test: {
    by: string
    like: string | null
    /** Words that are not saved yet; null: those that hold. */
    source: string | null
  }
}

export function isTest(context: unknown): context is TestContext {
  return context instanceof Object && 'test' in context && context.test instanceof Object
}
