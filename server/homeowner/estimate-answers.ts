import { z } from 'zod'
import { moneyInWords } from '../../trade/estimates/money.ts'
import { staysUnsafe } from '../../trade/estimates/decision.ts'
import { faultOfChoice, sumsWith } from '../../trade/estimates/options.ts'
import type { Db } from '../db.ts'
import { Problem } from '../errors.ts'
import { decideEstimate, type Decision, statementOf } from '../estimates/deciding.ts'
import type { EstimateView } from '../estimates/schema.ts'
import { planFollowUps } from '../follow-ups/service.ts'
import { idSchema } from '../ids.ts'
import { findAnswer, insertAnswer, type Said } from './answer-store.ts'
import type { Thanks } from './answers.ts'
import { acted, FormFault, type Visitor } from './entry.ts'
import { chosenIn, estimateOf, mayAnswer } from './estimate-page.ts'
import type { ThanksFor } from './words.ts'

const optionsSchema = z
  .union([z.string().max(60), z.array(z.string().max(60)).max(100)])
  .optional()
  .transform(chosenIn)

export const estimateBody = z.object({
  form: z.string().max(100).optional(),
  /** The answer's own id, made with the form: sent twice, it is one answer. */
  id: idSchema,
  act: z.enum(['accept', 'decline', 'question']),
  /** As they saw it: what they sign is that version, and no other. */
  version: z.coerce.number().int().default(0),
  option: optionsSchema,
  /** Those that the total and the words on the page were for. */
  shown: optionsSchema,
  name: z.string().trim().max(120).default(''),
  reason: z.string().trim().max(300).default(''),
  question: z.string().trim().max(1000).default(''),
  understood: z.string().max(10).default(''),
})
export type EstimateBody = z.output<typeof estimateBody>

/** Accepted, declined, or a question: for the office to see with everything else that people say. */
export async function answerEstimate(visitor: Visitor, id: string, body: EstimateBody): Promise<Thanks> {
  const { ctx, link } = visitor
  const known = await findAnswer(ctx.db, body.id, link.customerId)
  if (known) return { thanks: known.said.thanks as ThanksFor, answerId: known.id }
  const estimate = await estimateOf(visitor, id)
  const word =
    body.act === 'question' ? question(visitor, estimate, body) : await decision(visitor, estimate, body)
  await ctx.db
    .$transaction(async (tx) => {
      const isNew = await insertAnswer(tx, {
        id: body.id,
        linkId: link.id,
        customerId: link.customerId,
        propertyId: estimate.propertyId,
        followUpId: null,
        act: word.said.thanks as 'estimate-question',
        said: { estimateId: id, number: estimate.number, ...word.said },
        before: {},
        at: ctx.now(),
      })
      if (isNew) await word.write(tx)
    })
    .catch((error: unknown) => {
      const isLate = error instanceof Problem && error.code === 'changed-meanwhile'
      throw isLate ? new FormFault(visitor.words.errors.estimateChanged) : error
    })
  await acted(visitor)
  return { thanks: word.said.thanks as ThanksFor, answerId: body.id }
}

interface EstimateWord {
  said: Said & { thanks: ThanksFor }
  write: (tx: Db) => Promise<void>
}

function question({ ctx, words }: Visitor, { propertyId }: EstimateView, body: EstimateBody): EstimateWord {
  if (body.question === '') throw new FormFault(words.errors.question)
  return {
    said: { thanks: 'estimate-question', question: body.question },
    // They are not reminded while it is the office's turn.
    write: async (tx) => void (await planFollowUps(ctx, tx, propertyId)),
  }
}

async function decision(visitor: Visitor, estimate: EstimateView, body: EstimateBody): Promise<EstimateWord> {
  const { ctx, words } = visitor
  if (!(await mayAnswer(visitor, estimate))) throw new FormFault(words.errors.estimateOver)
  if (body.version !== estimate.version) throw new FormFault(words.errors.estimateChanged)
  const isAccepted = body.act === 'accept'
  const chosen = isAccepted ? body.option : []
  if (isAccepted && !isSameChoice(chosen, body.shown)) throw new FormFault(words.errors.estimateTicked)
  if (isAccepted && faultOfChoice(estimate.lines, chosen) !== null) throw new FormFault(words.errors.choose)
  const what = { state: isAccepted ? ('accepted' as const) : ('declined' as const), chosen }
  if (body.name === '') throw new FormFault(words.errors.name)
  const isDanger = staysUnsafe(estimate.lines, what).length > 0
  if ((isAccepted || isDanger) && body.understood !== 'yes') throw new FormFault(words.errors.acknowledge)
  const { name, reason } = body
  const signed: Decision = {
    ...what,
    name,
    reason,
    statement: statementOf(estimate, what, visitor.company.name, visitor.link.language),
  }
  const total = moneyInWords(sumsWith(estimate.lines, chosen).totalCents)
  return {
    said: {
      thanks: isAccepted ? 'estimate-accepted' : 'estimate-declined',
      name,
      reason,
      isDanger,
      ...(isAccepted && { total }),
    },
    write: (tx) => decideEstimate(ctx, tx, estimate, signed),
  }
}

const isSameChoice = (ticked: readonly string[], shown: readonly string[]) =>
  ticked.length === shown.length && ticked.every((name) => shown.includes(name))
