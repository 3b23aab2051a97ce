import { staysUnsafe } from '../../trade/estimates/decision.ts'
import { faultOfChoice } from '../../trade/estimates/options.ts'
import { toldStatement } from '../../trade/estimates/statement.ts'
import { getCompany } from '../settings/store.ts'
import type { Ctx } from '../ctx.ts'
import { getCustomer } from '../customers/store.ts'
import { invalid, Problem } from '../errors.ts'
import { findingsOf } from './changing.ts'
import { checkOffer, seenEstimate } from './checks.ts'
import { decideEstimate, statementOf } from './deciding.ts'
import type { AnswerEstimateBody, EstimateView } from './schema.ts'
import * as store from './store.ts'

/**
 * What the customer said on the telephone or in person, also of an offer that was never sent: some have no e-mail. Kept
 * like an answer on the page, with who heard it instead of a signature.
 */
export function recordAnswer(
  ctx: Ctx,
  id: string,
  seen: number,
  { state, options, name, how, reason, wasWarned }: AnswerEstimateBody,
): Promise<EstimateView> {
  const { actor } = ctx
  if (actor.kind !== 'user') throw new Problem('not-allowed', 'Only a person can write down what was said.')
  return ctx.db.$transaction(async (tx) => {
    const estimate = await seenEstimate(tx, id, seen, 'record')
    const chosen = state === 'accepted' ? options : []
    if (state === 'accepted') {
      checkOffer(estimate, ctx.today(estimate.timeZone), findingsOf(estimate))
      checkChoice(estimate, chosen)
    }
    const unsafe = staysUnsafe(estimate.lines, { state, chosen })
    if (unsafe.length > 0 && !wasWarned) {
      throw invalid({
        pointer: '#/wasWarned',
        detail: `tell them first that this stays unsafe: ${unsafe.map(({ text }) => text).join('; ')}`,
      })
    }
    const [company, { language }] = [await getCompany(tx), await getCustomer(tx, estimate.customerId)]
    const words = statementOf(estimate, { state, chosen }, company.name, language)
    const told = { how, to: actor.name }
    const statement = toldStatement(words, { name, ...told, company: company.name }, language)
    await decideEstimate(ctx, tx, estimate, { state, chosen, name, reason, statement, told })
    return store.getEstimate(tx, id)
  })
}

function checkChoice({ lines }: EstimateView, chosen: readonly string[]): void {
  const fault = faultOfChoice(lines, chosen)
  if (fault === null) return
  const detail =
    fault === 'unknown-option'
      ? 'it has no such option; load it again'
      : 'nothing of it is taken so; name an option, or say that it was declined'
  throw invalid({ pointer: '#/options', detail })
}
