import type { FollowUpKindId } from '../../trade/follow-ups/kind.ts'
import { audit } from '../audit/store.ts'
import { Problem } from '../errors.ts'
import { planFollowUps } from '../follow-ups/service.ts'
import { type Act, actsOn } from './acts.ts'
import { findAnswer, insertAnswer } from './answer-store.ts'
import { battery, checked, replaced } from './device-answers.ts'
import { acted, atHome, FormFault, type Visitor } from './entry.ts'
import { decline, snooze } from './rest-answers.ts'
import * as store from './store.ts'
import { ALREADY, type AnswerBody, type AtHome, type FollowUp, type Word } from './word.ts'
import type { ThanksFor } from './words.ts'

const ANSWERS: Record<Act, (at: AtHome, followUp: FollowUp, body: AnswerBody) => Promise<Word | 'already'>> =
  {
    replaced,
    battery,
    checked,
    corrected,
    snooze,
    decline,
  }

/** What the page says after an answer. */
export interface Thanks {
  thanks: ThanksFor
  answerId: string | null
}

/** The homeowner's word on one thing that is due. The same form sent twice is one answer; what has ended stays as it is. */
export async function answer(visitor: Visitor, followUpId: string, body: AnswerBody): Promise<Thanks> {
  const { ctx, link, words } = visitor
  const homes = visitor.homes.map(({ id }) => id)
  const followUp = await store.findFollowUp(ctx.db, followUpId, homes)
  if (!followUp) throw new Problem('not-found', 'There is no such thing here.')
  if (!actsOn(followUp.kind as FollowUpKindId).includes(body.act)) throw new FormFault(words.errors.form)
  const known = await findAnswer(ctx.db, body.id, link.customerId)
  if (known) return { thanks: known.said.thanks as ThanksFor, answerId: known.id }
  const at = atHome(visitor, followUp.propertyId)
  const word = await ANSWERS[body.act](at, followUp, body)
  if (word === ALREADY) return { thanks: ALREADY, answerId: null }
  await ctx.db.$transaction(async (tx) => {
    const isNew = await insertAnswer(tx, {
      id: body.id,
      linkId: link.id,
      customerId: link.customerId,
      propertyId: followUp.propertyId,
      followUpId,
      act: body.act,
      said: { thanks: word.thanks, isDanger: followUp.finding?.severity === 'unsafe', ...word.said },
      before: word.before ?? {},
      at: ctx.now(),
    })
    if (isNew) await word.write(tx)
  })
  await acted(at)
  return { thanks: word.thanks, answerId: body.id }
}

/** Said to be put right: not carried as open any more, and looked at with our own eyes next time. */
async function corrected(at: AtHome, followUp: FollowUp, body: AnswerBody): Promise<Word | 'already'> {
  const { ctx, words } = at
  const from = ['open', 'on-estimate', 'accepted', 'declined', 'booked']
  const { findingId, finding } = followUp
  if (!findingId || !finding || !from.includes(finding.state)) return ALREADY
  if (body.by === '') throw new FormFault(words.errors.who)
  return {
    thanks: 'corrected',
    said: { label: finding.text, by: body.by },
    write: async (tx) => {
      if (!(await store.setFindingCorrected(tx, findingId, from, ctx.now()))) return
      await audit(ctx, tx, {
        action: 'finding.reported-corrected',
        subjectKind: 'finding',
        subjectId: findingId,
        before: { state: finding.state },
        after: { state: 'corrected', by: body.by },
      })
      await planFollowUps(ctx, tx, followUp.propertyId)
    },
  }
}
